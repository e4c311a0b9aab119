#include <algorithm>
#include <tuple>

#include "app/practice/counting.h"
#include "app/store/rows.h"
#include "app/store/trial_rows.h"

namespace holdwell {
namespace {

#define HOLDWELL_PRACTICE_COLUMNS                                                                  \
    "id, plan_id, plan_revision, taper_step, kind, begun_date, begun_minute, completion, "         \
    "trials_asked, pain, hoarser, unwell, on_voice_rest, effort, discomfort, room_dbfs, "          \
    "voice_dbfs, sample_rate_hz, fingerprint, remark"

constexpr const char* kFindPractice = "SELECT client_key, practice_key FROM practice WHERE id = ?";
constexpr const char* kNextPractice =
    "SELECT coalesce(max(practice_key), 0) + 1 FROM practice WHERE client_key = ?";
constexpr const char* kKeepPractice =
    "INSERT INTO practice (client_key, practice_key, " HOLDWELL_PRACTICE_COLUMNS ")"
    R"sql(
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
    ON CONFLICT (id) DO UPDATE SET
        plan_id = excluded.plan_id, plan_revision = excluded.plan_revision,
        taper_step = excluded.taper_step, kind = excluded.kind,
        begun_date = excluded.begun_date, begun_minute = excluded.begun_minute,
        completion = excluded.completion, trials_asked = excluded.trials_asked,
        pain = excluded.pain, hoarser = excluded.hoarser, unwell = excluded.unwell,
        on_voice_rest = excluded.on_voice_rest, effort = excluded.effort,
        discomfort = excluded.discomfort, room_dbfs = excluded.room_dbfs,
        voice_dbfs = excluded.voice_dbfs, sample_rate_hz = excluded.sample_rate_hz,
        fingerprint = excluded.fingerprint, remark = excluded.remark
)sql";
constexpr const char* kReadPractice =
    "SELECT c.id, practice_key, trials, p." HOLDWELL_PRACTICE_COLUMNS
    " FROM practice p JOIN client c USING (client_key) WHERE client_key = ? AND practice_key = ?";
constexpr const char* kReadPractices =
    "SELECT c.id, practice_key, trials, p." HOLDWELL_PRACTICE_COLUMNS
    " FROM practice p JOIN client c USING (client_key) WHERE client_key = ? ORDER BY practice_key";

constexpr const char* kRemovePractice =
    "DELETE FROM practice WHERE client_key = ? AND practice_key = ?";  // its trials go with it
constexpr const char* kRemovePracticeClips = R"sql(
    DELETE FROM clip WHERE trial_id IN
        (SELECT id FROM trial WHERE client_key = ? AND practice_key = ?)
)sql";

constexpr const char* kRemoveTrial = "DELETE FROM trial WHERE id = ?";
constexpr const char* kRemoveTrials = "DELETE FROM trial WHERE client_key = ? AND practice_key = ?";
constexpr const char* kKeepTrial =
    "INSERT INTO trial (client_key, practice_key, " HOLDWELL_TRIAL_COLUMNS ")"
    R"sql(
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?,
            ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadTrials =
    "SELECT " HOLDWELL_TRIAL_COLUMNS
    " FROM trial WHERE client_key = ? AND practice_key = ? ORDER BY number, id";
constexpr const char* kReadAllTrials =
    "SELECT practice_key, " HOLDWELL_TRIAL_COLUMNS
    " FROM trial WHERE client_key = ? ORDER BY practice_key, number, id";
constexpr const char* kSumUp = R"sql(
    UPDATE practice SET trials = ?, counted_holds = ?, counted_hold_s = ?, in_band_holds = ?,
                        counted_in_band_s = ?
    WHERE client_key = ? AND practice_key = ?
)sql";

void put_rating(Query& query, const std::optional<SelfRating>& rating)
{
    if (rating)
        query.with(rating->effort, rating->discomfort);
    else
        query.with_nulls(2);
}

std::optional<SelfRating> take_rating(Query& query)
{
    const auto effort = query.take<std::optional<int>>();
    if (!effort) {
        query.skip(1);
        return std::nullopt;
    }
    return SelfRating{*effort, query.take<int>()};
}

void put_sound_check(Query& query, const std::optional<SoundCheckSummary>& check)
{
    if (check)
        query.with(check->room, check->voice, check->sample_rate, check->fingerprint);
    else
        query.with_nulls(4);
}

std::optional<SoundCheckSummary> take_sound_check(Query& query)
{
    const auto room = query.take<std::optional<Dbfs>>();
    if (!room) {
        query.skip(3);
        return std::nullopt;
    }
    SoundCheckSummary check;
    check.room = *room;
    check.voice = query.take<Dbfs>();
    check.sample_rate = query.take<SampleRate>();
    check.fingerprint = query.take<std::string>();
    return check;
}

struct StoredPractice {
    std::int64_t key{};
    Practice practice;
};

StoredPractice take_practice(Query& query)
{
    StoredPractice stored;
    Practice& practice = stored.practice;
    practice.client = query.take<Id>();
    stored.key = query.take<std::int64_t>();
    practice.trials.reserve(static_cast<std::size_t>(query.take<int>()));
    practice.id = query.take<Id>();
    practice.plan = query.take<Id>();
    practice.plan_revision = query.take<int>();
    practice.taper_step = query.take<int>();
    practice.kind = query.take<PracticeKind>();
    practice.begun.date = query.take<Date>();
    practice.begun.time = query.take<ClockTime>();
    practice.completion = query.take<Completion>();
    practice.trials_asked = query.take<int>();
    practice.before.pain = query.take<bool>();
    practice.before.hoarser = query.take<bool>();
    practice.before.unwell = query.take<bool>();
    practice.before.on_voice_rest = query.take<bool>();
    practice.rating = take_rating(query);
    practice.sound_check = take_sound_check(query);
    practice.remark = query.take<std::string>();
    return stored;
}

std::vector<Trial> read_trials(Connection& connection, PracticeKey practice)
{
    std::vector<Trial> trials;
    Query query{connection, kReadTrials};
    query.with(practice.client.value, practice.value);
    while (query.next()) trials.push_back(take_trial(query));
    return trials;
}

// Both are in the order of practice_key.
void hand_out_trials(Connection& connection, ClientKey client,
                     std::vector<StoredPractice>& practices)
{
    Query query{connection, kReadAllTrials};
    query.with(client.value);
    auto practice = practices.begin();
    while (query.next()) {
        const auto key = query.take<std::int64_t>();
        while (practice->key < key) ++practice;  // the tables' constraint: it is there
        practice->practice.trials.push_back(take_trial(query));
    }
}

}  // namespace

std::optional<PracticeKey> key_of_practice(Connection& connection, const Id& practice)
{
    Query query{connection, kFindPractice};
    if (!query.with(practice).next()) return std::nullopt;
    const ClientKey client{query.take<std::int64_t>()};
    return PracticeKey{client, query.take<std::int64_t>()};
}

PracticeKey keep_practice_row(Connection& connection, ClientKey client, const Practice& practice)
{
    std::optional<PracticeKey> key = key_of_practice(connection, practice.id);
    if (!key) {
        Query next{connection, kNextPractice};
        next.with(client.value).next();
        key = PracticeKey{client, next.take<std::int64_t>()};
    }
    Query query{connection, kKeepPractice};
    query.with(key->client.value, key->value, practice.id, practice.plan, practice.plan_revision);
    query.with(practice.taper_step, practice.kind, practice.begun.date, practice.begun.time);
    query.with(practice.completion, practice.trials_asked);
    query.with(practice.before.pain, practice.before.hoarser, practice.before.unwell,
               practice.before.on_voice_rest);
    put_rating(query, practice.rating);
    put_sound_check(query, practice.sound_check);
    query.with(practice.remark).run();
    return *key;
}

void keep_trial(Connection& connection, PracticeKey practice, const Trial& trial)
{
    Query{connection, kRemoveTrial}.with(trial.id).run();
    Query query{connection, kKeepTrial};
    query.with(practice.client.value, practice.value);
    put_trial(query, trial);
    query.run();
}

void remove_trials(Connection& connection, PracticeKey practice)
{
    Query{connection, kRemoveTrials}.with(practice.client.value, practice.value).run();
}

void remove_practice_rows(Connection& connection, PracticeKey practice)
{
    Query{connection, kRemovePracticeClips}.with(practice.client.value, practice.value).run();
    Query{connection, kRemovePractice}.with(practice.client.value, practice.value).run();
}

void sum_up(Connection& connection, PracticeKey practice)
{
    const std::vector<Trial> trials = read_trials(connection, practice);
    const HoldTotals totals = hold_totals_of(trials);
    Query{connection, kSumUp}
        .with(static_cast<int>(trials.size()), totals.holds, totals.time, totals.in_band_holds,
              totals.in_band, practice.client.value, practice.value)
        .run();
}

std::optional<Practice> read_practice(Connection& connection, PracticeKey key)
{
    Query query{connection, kReadPractice};
    if (!query.with(key.client.value, key.value).next()) return std::nullopt;
    Practice practice = take_practice(query).practice;
    practice.trials = read_trials(connection, key);
    return practice;
}

std::vector<Practice> read_practices(Connection& connection, ClientKey client)
{
    std::vector<StoredPractice> stored;
    {
        Query query{connection, kReadPractices};
        query.with(client.value);
        while (query.next()) stored.push_back(take_practice(query));
    }
    hand_out_trials(connection, client, stored);
    std::vector<Practice> practices;
    practices.reserve(stored.size());
    for (StoredPractice& one : stored) practices.push_back(std::move(one.practice));
    std::ranges::stable_sort(practices, {}, &Practice::begun);
    return practices;
}

}  // namespace holdwell
