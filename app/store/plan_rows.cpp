#include "app/store/rows.h"

namespace holdwell {
namespace {

// A plan among those of its client.
struct PlanKey {
    ClientKey client;
    std::int64_t value{};
};

constexpr const char* kFindPlan =
    "SELECT plan_key FROM plan WHERE client_key = ? AND id = ? AND revision = ?";
constexpr const char* kPlaceAfter =
    "SELECT coalesce(max(plan_key), 0) + 1 FROM plan WHERE client_key = ?";
constexpr const char* kPlaceBefore =
    "SELECT coalesce(min(plan_key), 0) - 1 FROM plan WHERE client_key = ?";
constexpr const char* kRemovePlan = "DELETE FROM plan WHERE client_key = ? AND plan_key = ?";
constexpr const char* kKeepPlan = R"sql(
    INSERT INTO plan (client_key, plan_key, asked_a_week, id, revision, title, written_date,
        words_for_client, voice_set, warm_up_midi, practices_a_day, most_practices_a_day, weeks,
        band_cents, hold_counts, bridge_s, note_cue, pitch_line, rest_s, keeps, keep_audio_days,
        taper_met_on_days, taper_keep_share, taper_step,
        goal_s, goal_origin, goal_set_date, goal_reasoning)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadPlans = R"sql(
    SELECT plan_key, id, revision, title, written_date,
        words_for_client, voice_set, warm_up_midi, practices_a_day, most_practices_a_day, weeks,
        band_cents, hold_counts, bridge_s, note_cue, pitch_line, rest_s, keeps, keep_audio_days,
        taper_met_on_days, taper_keep_share, taper_step,
        goal_s, goal_origin, goal_set_date, goal_reasoning
    FROM plan WHERE client_key = ? ORDER BY plan_key
)sql";
constexpr const char* kKeepNote =
    "INSERT INTO plan_note (client_key, plan_key, place, midi) VALUES (?, ?, ?, ?)";
constexpr const char* kReadNotes =
    "SELECT midi FROM plan_note WHERE client_key = ? AND plan_key = ? ORDER BY place";
constexpr const char* kKeepStep = R"sql(
    INSERT INTO plan_step (client_key, plan_key, step, name, practices_a_week, days)
    VALUES (?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadSteps = R"sql(
    SELECT name, practices_a_week, days
    FROM plan_step WHERE client_key = ? AND plan_key = ? ORDER BY step
)sql";
constexpr const char* kKeepDrill = R"sql(
    INSERT INTO plan_drill (client_key, plan_key, step, place, kind, repetitions)
    VALUES (?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadDrills = R"sql(
    SELECT kind, repetitions
    FROM plan_drill WHERE client_key = ? AND plan_key = ? AND step = ? ORDER BY place
)sql";
constexpr const char* kKeepModel = R"sql(
    INSERT INTO plan_model (client_key, plan_key, place, kind, note_midi, flac)
    VALUES (?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadModels = R"sql(
    SELECT kind, note_midi, flac
    FROM plan_model WHERE client_key = ? AND plan_key = ? ORDER BY place
)sql";
// A voice is kept with the plan in force alone: so that one that was taken out of it, or recorded
// anew, is nowhere any more.
constexpr const char* kRemoveEarlierModels = R"sql(
    DELETE FROM plan_model WHERE client_key = ?1
        AND plan_key < (SELECT max(plan_key) FROM plan WHERE client_key = ?1)
)sql";

// ---- writing ---------------------------------------------------------------------------------

void put_goal(Query& query, const std::optional<Goal>& goal)
{
    if (goal)
        query.with(goal->hold, goal->origin, goal->set_on, goal->reasoning);
    else
        query.with_nulls(4);
}

void keep_plan_row(Connection& connection, PlanKey key, const Plan& plan)
{
    Query query{connection, kKeepPlan};
    query.with(key.client.value, key.value, practices_a_week_now(plan));
    query.with(plan.id, plan.revision, plan.title, plan.written, plan.words_for_client);
    query.with(plan.voice.set, plan.voice.warm_up, plan.practices_a_day, plan.most_practices_a_day,
               plan.weeks);
    query.with(plan.band, plan.counts, plan.bridge, plan.cue, plan.pitch_line, plan.rest);
    query.with(plan.keeps, plan.keep_audio_days);
    query.with(plan.taper.met_on_days, plan.taper.keep_share, plan.taper_step);
    put_goal(query, plan.goal);
    query.run();
}

void keep_drills(Connection& connection, PlanKey key, int step,
                 const std::vector<PlannedDrill>& drills)
{
    int place = 0;
    for (const PlannedDrill& drill : drills)
        Query{connection, kKeepDrill}
            .with(key.client.value, key.value, step, ++place, drill.kind, drill.repetitions)
            .run();
}

void keep_taper(Connection& connection, PlanKey key, const Taper& taper)
{
    int number = 0;
    for (const TaperStep& step : taper.steps) {
        Query{connection, kKeepStep}
            .with(key.client.value, key.value, ++number, step.name, step.practices_a_week,
                  step.days)
            .run();
        keep_drills(connection, key, number, step.drills);
    }
}

void keep_ladder(Connection& connection, PlanKey key, const std::vector<Note>& ladder)
{
    int place = 0;
    for (const Note note : ladder)
        Query{connection, kKeepNote}.with(key.client.value, key.value, ++place, note).run();
}

void keep_models(Connection& connection, PlanKey key, const std::vector<ModelVoice>& models)
{
    int place = 0;
    for (const ModelVoice& model : models)
        Query{connection, kKeepModel}
            .with(key.client.value, key.value, ++place, model.kind, model.note, model.flac)
            .run();
}

// The place of the same revision, emptied, or a new one beside all that are there.
PlanKey make_room(Connection& connection, ClientKey client, const Plan& plan, PlanPlace place)
{
    std::optional<std::int64_t> there;
    {
        Query find{connection, kFindPlan};
        if (find.with(client.value, plan.id, plan.revision).next())
            there = find.take<std::int64_t>();
    }
    if (there) {
        Query{connection, kRemovePlan}.with(client.value, *there).run();
        return {client, *there};
    }
    Query next{connection, place == PlanPlace::after_all ? kPlaceAfter : kPlaceBefore};
    next.with(client.value).next();
    return {client, next.take<std::int64_t>()};
}

// ---- reading ---------------------------------------------------------------------------------

std::optional<Goal> take_goal(Query& query)
{
    const auto hold = query.take<std::optional<Seconds>>();
    if (!hold) return std::nullopt;
    Goal goal;
    goal.hold = *hold;
    goal.origin = query.take<GoalOrigin>();
    goal.set_on = query.take<Date>();
    goal.reasoning = query.take<std::string>();
    return goal;
}

Plan take_plan(Query& query)
{
    Plan plan;
    plan.id = query.take<Id>();
    plan.revision = query.take<int>();
    plan.title = query.take<std::string>();
    plan.written = query.take<Date>();
    plan.words_for_client = query.take<std::string>();
    plan.voice.set = query.take<VoiceSet>();
    plan.voice.warm_up = query.take<Note>();
    plan.practices_a_day = query.take<int>();
    plan.most_practices_a_day = query.take<int>();
    plan.weeks = query.take<int>();
    plan.band = query.take<Cents>();
    plan.counts = query.take<HoldCounts>();
    plan.bridge = query.take<Seconds>();
    plan.cue = query.take<NoteCue>();
    plan.pitch_line = query.take<PitchLine>();
    plan.rest = query.take<Seconds>();
    plan.keeps = query.take<Keeps>();
    plan.keep_audio_days = query.take<int>();
    plan.taper.met_on_days = query.take<int>();
    plan.taper.keep_share = query.take<double>();
    plan.taper_step = query.take<int>();
    plan.goal = take_goal(query);
    return plan;
}

std::vector<PlannedDrill> read_drills(Connection& connection, PlanKey key, int step)
{
    std::vector<PlannedDrill> drills;
    Query query{connection, kReadDrills};
    query.with(key.client.value, key.value, step);
    while (query.next()) {
        const auto kind = query.take<DrillKind>();
        drills.push_back({kind, query.take<int>()});
    }
    return drills;
}

std::vector<TaperStep> read_steps(Connection& connection, PlanKey key)
{
    std::vector<TaperStep> steps;
    Query query{connection, kReadSteps};
    query.with(key.client.value, key.value);
    while (query.next()) {
        TaperStep& step = steps.emplace_back();
        step.name = query.take<std::string>();
        step.practices_a_week = query.take<int>();
        step.days = query.take<int>();
        step.drills = read_drills(connection, key, static_cast<int>(steps.size()));
    }
    return steps;
}

std::vector<Note> read_ladder(Connection& connection, PlanKey key)
{
    std::vector<Note> ladder;
    Query query{connection, kReadNotes};
    query.with(key.client.value, key.value);
    while (query.next()) ladder.push_back(query.take<Note>());
    return ladder;
}

std::vector<ModelVoice> read_models(Connection& connection, PlanKey key)
{
    std::vector<ModelVoice> models;
    Query query{connection, kReadModels};
    query.with(key.client.value, key.value);
    while (query.next()) {
        ModelVoice& model = models.emplace_back();
        model.kind = query.take<DrillKind>();
        model.note = query.take<std::optional<Note>>();
        model.flac = query.take<std::vector<std::byte>>();
    }
    return models;
}

}  // namespace

void keep_plan(Connection& connection, ClientKey client, const Plan& plan, PlanPlace place)
{
    const PlanKey key = make_room(connection, client, plan, place);
    keep_plan_row(connection, key, plan);
    keep_ladder(connection, key, plan.voice.ladder);
    keep_drills(connection, key, 0, plan.drills);
    keep_taper(connection, key, plan.taper);
    keep_models(connection, key, plan.models);
    Query{connection, kRemoveEarlierModels}.with(client.value).run();
}

std::vector<Plan> read_plans(Connection& connection, ClientKey client)
{
    std::vector<Plan> plans;
    Query query{connection, kReadPlans};
    query.with(client.value);
    while (query.next()) {
        const PlanKey key{client, query.take<std::int64_t>()};
        Plan& plan = plans.emplace_back(take_plan(query));
        plan.voice.ladder = read_ladder(connection, key);
        plan.drills = read_drills(connection, key, 0);
        plan.taper.steps = read_steps(connection, key);
        plan.models = read_models(connection, key);
    }
    return plans;
}

}  // namespace holdwell
