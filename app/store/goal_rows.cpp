// Goals that can be measured, and what left this computer.

#include "app/store/rows.h"

namespace holdwell {
namespace {

constexpr const char* kNextGoal =
    "SELECT coalesce(max(place), 0) + 1 FROM set_goal WHERE client_key = ?";
// In its place when it is there.
constexpr const char* kKeepGoal = R"sql(
    INSERT INTO set_goal (client_key, place, id, set_date, withdrawn_date, kind, note_midi, sound,
                          band_cents, hold_s, onset_asked, met, trials, days, cueing, by_date)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
    ON CONFLICT (client_key, id) DO UPDATE SET
        set_date = excluded.set_date, withdrawn_date = excluded.withdrawn_date,
        kind = excluded.kind, note_midi = excluded.note_midi, sound = excluded.sound,
        band_cents = excluded.band_cents, hold_s = excluded.hold_s,
        onset_asked = excluded.onset_asked, met = excluded.met, trials = excluded.trials,
        days = excluded.days, cueing = excluded.cueing, by_date = excluded.by_date
)sql";
constexpr const char* kReadGoals = R"sql(
    SELECT id, set_date, withdrawn_date, kind, note_midi, sound, band_cents, hold_s, onset_asked,
           met, trials, days, cueing, by_date
    FROM set_goal WHERE client_key = ? ORDER BY set_date, place
)sql";

constexpr const char* kKeepHandedOut = R"sql(
    INSERT INTO handed_out (client_key, place, day, kind, days, name, audio, sealed)
    SELECT ?1, coalesce(max(place), 0) + 1, ?2, ?3, ?4, ?5, ?6, ?7
    FROM handed_out WHERE client_key = ?1
)sql";
constexpr const char* kReadHandedOut = R"sql(
    SELECT day, kind, days, name, audio, sealed FROM handed_out WHERE client_key = ? ORDER BY place
)sql";

}  // namespace

void keep_goal(Connection& connection, ClientKey client, const ClientGoal& kept)
{
    Query next{connection, kNextGoal};
    next.with(client.value).next();
    const MeasurableGoal& goal = kept.goal;
    Query query{connection, kKeepGoal};
    query.with(client.value, next.take<std::int64_t>(), kept.id, kept.set_on, kept.withdrawn_on);
    query.with(goal.kind, goal.note, goal.sound, goal.band, goal.hold, goal.onset);
    query.with(goal.met, goal.trials, goal.days, goal.cueing, goal.by).run();
}

std::vector<ClientGoal> read_goals(Connection& connection, ClientKey client)
{
    std::vector<ClientGoal> goals;
    Query query{connection, kReadGoals};
    query.with(client.value);
    while (query.next()) {
        ClientGoal& read = goals.emplace_back();
        read.id = query.take<Id>();
        read.set_on = query.take<Date>();
        read.withdrawn_on = query.take<std::optional<Date>>();
        MeasurableGoal& goal = read.goal;
        goal.kind = query.take<DrillKind>();
        goal.note = query.take<Note>();
        goal.sound = query.take<std::string>();
        goal.band = query.take<Cents>();
        goal.hold = query.take<Seconds>();
        goal.onset = query.take<OnsetAsked>();
        goal.met = query.take<int>();
        goal.trials = query.take<int>();
        goal.days = query.take<int>();
        goal.cueing = query.take<Cueing>();
        goal.by = query.take<std::optional<Date>>();
    }
    return goals;
}

void keep_handed_out(Connection& connection, ClientKey client, const HandedOut& file)
{
    Query{connection, kKeepHandedOut}
        .with(client.value, file.day, file.what, file.days, file.name, file.audio, file.sealed)
        .run();
}

std::vector<HandedOut> read_handed_out(Connection& connection, ClientKey client)
{
    std::vector<HandedOut> files;
    Query query{connection, kReadHandedOut};
    query.with(client.value);
    while (query.next()) {
        HandedOut& file = files.emplace_back();
        file.day = query.take<Date>();
        file.what = query.take<HandedOut::What>();
        file.days = query.take<HandedOut::Days>();
        file.name = query.take<bool>();
        file.audio = query.take<bool>();
        file.sealed = query.take<bool>();
    }
    return files;
}

}  // namespace holdwell
