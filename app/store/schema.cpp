#include "app/store/schema.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>

#include <array>

#include "app/store/store.h"

namespace holdwell {
namespace {

// Clients, their plans, their practices and trials.
constexpr const char* kStep1 = R"sql(
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
)sql";

// Voice quality, loudness and doubt of a hold; the client's consent, sound kept with it; onsets
// that the therapist named.
constexpr const char* kStep2 = R"sql(
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
)sql";

// What a roster reads of each practice without opening its trials. Counted: holds at a note in
// which no samples were lost and nothing was in doubt.
constexpr const char* kStep3 = R"sql(
ALTER TABLE plan ADD COLUMN asked_a_week INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN trials INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_holds INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_hold_s REAL NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN counted_in_band_s REAL NOT NULL DEFAULT 0;

UPDATE plan SET asked_a_week = CASE taper_step WHEN 0 THEN 7 * practices_a_day
    ELSE coalesce((SELECT s.practices_a_week FROM plan_step s WHERE s.client_key = plan.client_key
                   AND s.plan_key = plan.plan_key AND s.step = plan.taper_step),
                  7 * practices_a_day) END;
UPDATE practice SET (trials, counted_holds, counted_hold_s, counted_in_band_s) = (
    SELECT count(*), count(*) FILTER (WHERE counts), total(length_s) FILTER (WHERE counts),
           total(in_band_s) FILTER (WHERE counts)
    FROM (SELECT length_s, in_band_s, has_gap = 0 AND doubt IS NULL
                 AND kind IN ('warm_up_hold', 'ladder_hold') AS counts
          FROM trial t WHERE t.client_key = practice.client_key
                         AND t.practice_key = practice.practice_key));
)sql";

// Holds that count in band are those whose time in band was measured: as many as of its sum. Goals
// that can be measured, and what left this computer.
constexpr const char* kStep4 = R"sql(
ALTER TABLE practice ADD COLUMN in_band_holds INTEGER NOT NULL DEFAULT 0;
UPDATE practice SET (counted_holds, counted_hold_s, in_band_holds, counted_in_band_s) = (
    SELECT count(*), total(length_s), count(in_band_s), total(in_band_s)
    FROM trial t WHERE t.client_key = practice.client_key
                   AND t.practice_key = practice.practice_key
                   AND measured = 'hold' AND has_gap = 0 AND doubt IS NULL AND length_s > 0);

CREATE TABLE set_goal (  -- that can be measured; set by the therapist
    client_key     INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    place          INTEGER NOT NULL,  -- 1, 2, ... of the client, in the order they were stored
    id             TEXT    NOT NULL,
    set_date       TEXT    NOT NULL,
    withdrawn_date TEXT,              -- NULL: it stands
    kind           TEXT    NOT NULL CHECK (kind IN ('warm_up_hold', 'ladder_hold')),
    note_midi      INTEGER NOT NULL,
    sound          TEXT    NOT NULL,  -- '': the practice sound
    band_cents     REAL    NOT NULL,
    hold_s         REAL    NOT NULL,  -- inside the band
    onset_asked    TEXT    NOT NULL CHECK (onset_asked IN ('any', 'easy')),
    met            INTEGER NOT NULL,  -- so many of the trials
    trials         INTEGER NOT NULL,  -- of a day
    days           INTEGER NOT NULL,  -- one after another on which it is practised
    cueing         TEXT    NOT NULL CHECK (cueing IN ('independently', 'with_cue')),
    by_date        TEXT,
    PRIMARY KEY (client_key, place),
    UNIQUE (client_key, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE handed_out (  -- files written for somebody else to read
    client_key INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    place      INTEGER NOT NULL,
    day        TEXT    NOT NULL,
    kind       TEXT    NOT NULL CHECK (kind IN ('plan', 'practices', 'report', 'table')),
    days       TEXT    NOT NULL CHECK (days IN ('dates', 'numbers')),
    name       INTEGER NOT NULL CHECK (name IN (0, 1)),    -- a name was typed into it
    audio      INTEGER NOT NULL CHECK (audio IN (0, 1)),
    sealed     INTEGER NOT NULL CHECK (sealed IN (0, 1)),  -- with a passphrase
    PRIMARY KEY (client_key, place)
) STRICT, WITHOUT ROWID;
)sql";

constexpr std::array<const char*, kStoreVersion> kSteps{kStep1, kStep2, kStep3, kStep4};

}  // namespace

void migrate(Connection& connection)
{
    SQLite::Database& database = connection.database();
    if (connection.version() >= kStoreVersion) return;
    SQLite::Transaction transaction{database, SQLite::TransactionBehavior::IMMEDIATE};
    // Asked again: another program may have migrated it while we waited.
    for (int version = connection.version(); version < kStoreVersion; ++version)
        database.exec(kSteps[static_cast<std::size_t>(version)]);
    database.exec(fmt::format("PRAGMA application_id = {}", kApplicationId));
    database.exec(fmt::format("PRAGMA user_version = {}", kStoreVersion));
    transaction.commit();
}

}  // namespace holdwell
