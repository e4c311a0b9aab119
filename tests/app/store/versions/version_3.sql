-- A file as version 3 of the tables left it. Kept as it was: from it the way to the present is tried.
PRAGMA application_id = 1214535532;

CREATE TABLE client (
    client_key INTEGER PRIMARY KEY,
    id         TEXT NOT NULL UNIQUE,
    code       TEXT NOT NULL,
    standing   TEXT NOT NULL CHECK (standing IN ('active', 'archived')),
    since_date TEXT NOT NULL
) STRICT;

CREATE TABLE home (  -- who practises on this computer
    only_one  INTEGER PRIMARY KEY CHECK (only_one = 1),
    client_id TEXT NOT NULL
) STRICT;

CREATE TABLE plan (
    client_key           INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    plan_key             INTEGER NOT NULL,  -- 1, 2, ... of the client; the last is in force
    id                   TEXT    NOT NULL,
    revision             INTEGER NOT NULL,
    title                TEXT    NOT NULL,
    written_date         TEXT    NOT NULL,
    words_for_client     TEXT    NOT NULL,
    voice_set            TEXT    NOT NULL CHECK (voice_set IN ('higher', 'lower', 'own')),
    warm_up_midi         INTEGER NOT NULL,
    practices_a_day      INTEGER NOT NULL,
    most_practices_a_day INTEGER NOT NULL,
    weeks                INTEGER NOT NULL,
    band_cents           REAL    NOT NULL,
    hold_counts          TEXT    NOT NULL CHECK (hold_counts IN ('all_phonation', 'in_band_only')),
    bridge_s             REAL    NOT NULL,
    goal_s               REAL,              -- NULL: as long as the breath is easy
    goal_origin          TEXT    CHECK (goal_origin IN ('s_baseline', 'volume_over_flow', 'by_hand')),
    goal_set_date        TEXT,
    goal_reasoning       TEXT,
    note_cue             TEXT    NOT NULL CHECK (note_cue IN ('played', 'silent')),
    pitch_line           TEXT    NOT NULL CHECK (pitch_line IN ('shown', 'hidden')),
    rest_s               REAL    NOT NULL,
    keeps                TEXT    NOT NULL CHECK (keeps IN ('measures_only', 'audio_too')),
    keep_audio_days      INTEGER NOT NULL,
    taper_met_on_days    INTEGER NOT NULL,
    taper_keep_share     REAL    NOT NULL,
    taper_step           INTEGER NOT NULL,  -- 0: the full plan
    PRIMARY KEY (client_key, plan_key),
    UNIQUE (client_key, id, revision)
) STRICT, WITHOUT ROWID;

CREATE INDEX plan_by_id ON plan (id);

CREATE TABLE plan_note (  -- the ladder, ascending
    client_key INTEGER NOT NULL,
    plan_key   INTEGER NOT NULL,
    place      INTEGER NOT NULL,
    midi       INTEGER NOT NULL,
    PRIMARY KEY (client_key, plan_key, place),
    FOREIGN KEY (client_key, plan_key) REFERENCES plan ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_step (  -- of the taper, from 1
    client_key       INTEGER NOT NULL,
    plan_key         INTEGER NOT NULL,
    step             INTEGER NOT NULL,
    name             TEXT    NOT NULL,
    practices_a_week INTEGER NOT NULL,
    days             INTEGER NOT NULL,
    PRIMARY KEY (client_key, plan_key, step),
    FOREIGN KEY (client_key, plan_key) REFERENCES plan ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_drill (
    client_key  INTEGER NOT NULL,
    plan_key    INTEGER NOT NULL,
    step        INTEGER NOT NULL,  -- 0: the full plan
    place       INTEGER NOT NULL,
    kind        TEXT    NOT NULL CHECK (kind IN ('warm_up_hold', 'ladder_hold', 'rising_glide',
                                                 'falling_glide', 's_hold', 'z_hold')),
    repetitions INTEGER NOT NULL,
    PRIMARY KEY (client_key, plan_key, step, place),
    FOREIGN KEY (client_key, plan_key) REFERENCES plan ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_model (  -- the therapist's own voice
    client_key INTEGER NOT NULL,
    plan_key   INTEGER NOT NULL,
    place      INTEGER NOT NULL,
    kind       TEXT    NOT NULL CHECK (kind IN ('warm_up_hold', 'ladder_hold', 'rising_glide',
                                                'falling_glide', 's_hold', 'z_hold')),
    note_midi  INTEGER,  -- of a hold
    flac       BLOB    NOT NULL,
    PRIMARY KEY (client_key, plan_key, place),
    FOREIGN KEY (client_key, plan_key) REFERENCES plan ON DELETE CASCADE
) STRICT;

CREATE TABLE practice (
    client_key     INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    practice_key   INTEGER NOT NULL,  -- 1, 2, ... of the client, in the order they were stored
    id             TEXT    NOT NULL UNIQUE,
    plan_id        TEXT    NOT NULL,  -- '': without a plan
    plan_revision  INTEGER NOT NULL,
    taper_step     INTEGER NOT NULL,
    kind           TEXT    NOT NULL CHECK (kind IN ('at_home', 'in_session', 'entered_by_hand')),
    begun_date     TEXT    NOT NULL,
    begun_minute   INTEGER NOT NULL,  -- since midnight
    completion     TEXT    NOT NULL CHECK (completion IN ('under_way', 'complete', 'partial',
                                                 'not_today', 'stopped_for_discomfort')),
    trials_asked   INTEGER NOT NULL,
    pain           INTEGER NOT NULL CHECK (pain IN (0, 1)),
    hoarser        INTEGER NOT NULL CHECK (hoarser IN (0, 1)),
    unwell         INTEGER NOT NULL CHECK (unwell IN (0, 1)),
    on_voice_rest  INTEGER NOT NULL CHECK (on_voice_rest IN (0, 1)),
    effort         INTEGER,  -- 0 .. 10; NULL: not rated
    discomfort     INTEGER,
    room_dbfs      REAL,     -- NULL: without a sound check
    voice_dbfs     REAL,
    sample_rate_hz REAL,
    fingerprint    TEXT,     -- of microphone, rate and gain
    remark         TEXT    NOT NULL,
    PRIMARY KEY (client_key, practice_key)
) STRICT, WITHOUT ROWID;
CREATE INDEX practice_by_day ON practice (client_key, begun_date);

CREATE TABLE trial (
    client_key             INTEGER NOT NULL,
    practice_key           INTEGER NOT NULL,
    number                 INTEGER NOT NULL,
    id                     TEXT    NOT NULL,
    kind                   TEXT    NOT NULL CHECK (kind IN ('warm_up_hold', 'ladder_hold',
                                       'rising_glide', 'falling_glide', 's_hold', 'z_hold')),
    target_midi            INTEGER,           -- of a hold
    repetition             INTEGER NOT NULL,
    goal_s                 REAL,
    band_cents             REAL    NOT NULL,
    begun_s                REAL    NOT NULL,  -- since the practice began
    measured               TEXT    NOT NULL CHECK (measured IN ('hold', 'glide', 'sibilant')),
    length_s               REAL    NOT NULL,  -- hold time, or that of the glide or sibilant
    has_gap                INTEGER NOT NULL CHECK (has_gap IN (0, 1)),
    fry_s                  REAL,              -- of a hold or glide
    -- of a hold
    in_band_s              REAL,
    f0_median_hz           REAL,
    deviation_cents        REAL,              -- sharp positive
    f0_sd_cents            REAL,
    octaves_off            INTEGER,
    interruptions          INTEGER,
    interrupted_s          REAL,
    onset                  TEXT    CHECK (onset IN ('easy', 'hard', 'breathy', 'unsure')),
    rise_s                 REAL,
    air_lead_s             REAL,
    ended_by               TEXT    CHECK (ended_by IN ('voice_stopped', 'fry', 'faded',
                                                       'stream_ended')),
    snr_db                 REAL,
    -- of a glide
    direction              TEXT    CHECK (direction IN ('up', 'down')),
    lowest_hz              REAL,
    highest_hz             REAL,
    jumps                  INTEGER,
    gaps                   INTEGER,
    largest_jump_semitones REAL,
    smoothness             REAL,              -- 0 .. 1
    -- of a sibilant
    fading_suspected       INTEGER CHECK (fading_suspected IN (0, 1)),
    PRIMARY KEY (client_key, practice_key, number, id),
    FOREIGN KEY (client_key, practice_key) REFERENCES practice ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX trial_by_id ON trial (id);

INSERT INTO client VALUES (1, 'c1', 'Blue 7', 'active', '2025-01-06');
INSERT INTO client VALUES (2, 'c2', 'Émile', 'archived', '2025-02-01');
INSERT INTO home VALUES (1, 'c1');
INSERT INTO plan VALUES (1, 1, 'p1', 1, 'Daily practice', '2025-01-06', 'Softly.', 'lower', 53, 2, 3, 6,
    100.0, 'all_phonation', 0.3, 12.5, 's_baseline', '2025-01-06', 'longest of 3', 'played', 'shown',
    15.0, 'measures_only', 28, 3, 0.85, 0);
INSERT INTO plan VALUES (1, 2, 'p1', 2, 'Once a day', '2025-02-17', '', 'lower', 53, 2, 3, 6,
    100.0, 'in_band_only', 0.3, 10.0, 'by_hand', '2025-02-17', '', 'silent', 'hidden',
    20.0, 'measures_only', 28, 3, 0.85, 1);
INSERT INTO plan_note VALUES (1, 1, 1, 48), (1, 1, 2, 50), (1, 2, 1, 48);
INSERT INTO plan_drill VALUES (1, 1, 0, 1, 'warm_up_hold', 2), (1, 1, 0, 2, 'rising_glide', 3),
    (1, 2, 0, 1, 'ladder_hold', 1), (1, 2, 1, 1, 'falling_glide', 4);
INSERT INTO plan_step VALUES (1, 2, 1, 'once a day', 7, 7);
INSERT INTO plan_model VALUES (1, 1, 1, 'warm_up_hold', 53, x'664c6143');
INSERT INTO practice VALUES (1, 1, 'r1', 'p1', 1, 0, 'at_home', '2025-02-20', 545, 'complete', 4,
    0, 1, 0, 0, 3, 1, -62.5, -24.0, 48000.0, 'ab12', 'went "well"');
INSERT INTO practice VALUES (1, 2, 'r2', '', 0, 0, 'in_session', '2025-01-06', 600, 'partial', 2,
    0, 0, 0, 0, NULL, NULL, NULL, NULL, NULL, NULL, '');
INSERT INTO trial VALUES (1, 1, 1, 't1', 'warm_up_hold', 53, 1, 12.5, 100.0, 4.25, 'hold', 10.0, 0, 0.0,
    8.0, 174.6, -3.5, 7.25, 0, 1, 0.12, 'easy', 0.05, 0.0, 'voice_stopped', 30.0,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL);
INSERT INTO trial VALUES (1, 1, 2, 't2', 'ladder_hold', 48, 1, 12.5, 100.0, 40.0, 'hold', 14.0, 0, 0.5,
    NULL, NULL, NULL, NULL, -1, 0, 0.0, 'unsure', NULL, NULL, 'fry', 21.5,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL);
INSERT INTO trial VALUES (1, 1, 3, 't3', 'ladder_hold', 48, 2, 12.5, 100.0, 60.0, 'hold', 99.0, 1, 0.0,
    9.0, 130.8, 0.0, 5.0, 0, 0, 0.0, 'hard', 0.01, 0.0, 'stream_ended', 25.0,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL);
INSERT INTO trial VALUES (1, 1, 4, 't4', 'rising_glide', NULL, 1, NULL, 100.0, 80.0, 'glide', 3.5, 0, 0.25,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL,
    'up', 110.0, 440.0, 1, 2, 3.5, 0.9, NULL);
INSERT INTO trial VALUES (1, 2, 1, 't5', 's_hold', NULL, 1, NULL, 100.0, 2.0, 'sibilant', 19.5, 0, NULL,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL,
    NULL, NULL, NULL, NULL, NULL, NULL, NULL, 1);

ALTER TABLE trial ADD COLUMN loudness_db REAL;  -- over the client's own comfortable voice
ALTER TABLE trial ADD COLUMN jitter_percent REAL;
ALTER TABLE trial ADD COLUMN shimmer_percent REAL;
ALTER TABLE trial ADD COLUMN hnr_db REAL;
ALTER TABLE trial ADD COLUMN cpps_db REAL;
ALTER TABLE trial ADD COLUMN doubt TEXT
    CHECK (doubt IN ('several_sounds', 'machine', 'noisy_room', 'overloaded'));
ALTER TABLE client ADD COLUMN keeps_audio INTEGER NOT NULL DEFAULT 0 CHECK (keeps_audio IN (0, 1));
ALTER TABLE client ADD COLUMN onsets_labelled_date TEXT;  -- NULL: none were

CREATE TABLE onset_label (
    client_key   INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    place        INTEGER NOT NULL,
    label        TEXT    NOT NULL CHECK (label IN ('easy', 'hard', 'breathy', 'unsure')),
    rise_s       REAL    NOT NULL,
    rise_cycles  REAL,
    air_lead_s   REAL    NOT NULL,
    air_level_db REAL,              -- over the room
    overshoot_db REAL    NOT NULL,
    irregular    INTEGER NOT NULL CHECK (irregular IN (0, 1)),
    snr_db       REAL    NOT NULL,
    PRIMARY KEY (client_key, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE clip (  -- the sound of one trial
    trial_id   TEXT    NOT NULL PRIMARY KEY,
    client_key INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    made_date  TEXT    NOT NULL,
    flac       BLOB    NOT NULL
) STRICT;
CREATE INDEX clip_by_day ON clip (client_key, made_date);

UPDATE client SET keeps_audio = 1, onsets_labelled_date = '2025-03-01' WHERE client_key = 1;
INSERT INTO onset_label VALUES (1, 1, 'hard', 0.008, 1.5, 0.0, NULL, 4.0, 1, 33.0);
INSERT INTO clip VALUES ('t1', 1, '2025-02-20', x'0102030405');
UPDATE trial SET loudness_db = 2.5, jitter_percent = 0.4, shimmer_percent = 2.0, hnr_db = 21.0,
    cpps_db = 14.0 WHERE id = 't1';
UPDATE trial SET doubt = 'noisy_room' WHERE id = 't2';

ALTER TABLE plan ADD COLUMN asked_a_week INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN trials INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_holds INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_hold_s REAL NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_in_band_s REAL NOT NULL DEFAULT 0;

UPDATE plan SET asked_a_week = 14 WHERE plan_key = 1;
UPDATE plan SET asked_a_week = 7 WHERE plan_key = 2;
UPDATE practice SET trials = 4, counted_holds = 1, counted_hold_s = 10.0, counted_in_band_s = 8.0
    WHERE id = 'r1';
UPDATE practice SET trials = 1, counted_holds = 0, counted_hold_s = 0.0, counted_in_band_s = 0.0
    WHERE id = 'r2';
PRAGMA user_version = 3;
