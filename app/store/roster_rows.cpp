#include <sqlite3.h>

#include <unordered_map>

#include "app/practice/counting.h"
#include "app/store/rows.h"

namespace holdwell {
namespace {

// One line a client. A practice's own sums save opening its trials; whether it counts as done is
// asked of the rule itself (see add_rules()). The plan in force is that of find_plan_in_force().
constexpr const char* kLines = R"sql(
    SELECT c.client_key, c.id, c.code, c.standing,
        (SELECT p.begun_date FROM practice p
         WHERE p.client_key = c.client_key AND is_done_at_home(p.kind, p.completion, p.trials)
         ORDER BY p.begun_date DESC LIMIT 1),
        coalesce(plan.asked_a_week, 0), plan.goal_s, plan.hold_counts
    FROM client c
    LEFT JOIN plan ON plan.client_key = c.client_key AND plan.plan_key = coalesce(
        (SELECT max(plan_key) FROM plan p WHERE p.client_key = c.client_key AND written_date <= ?),
        (SELECT min(plan_key) FROM plan p WHERE p.client_key = c.client_key))
    ORDER BY c.code, c.id
)sql";

// Client by client, each found by the index by day.
constexpr const char* kWeek = R"sql(
    SELECT w.client_key, w.begun_date, w.kind, w.completion, w.trials,
        w.counted_holds, w.counted_hold_s, w.in_band_holds, w.counted_in_band_s,
        w.pain OR w.completion = 'stopped_for_discomfort' OR coalesce(w.discomfort, 0) > 0
    FROM client c CROSS JOIN practice w ON w.client_key = c.client_key
    WHERE w.begun_date BETWEEN ? AND ?
)sql";

constexpr std::chrono::days kSevenDays{7};

// A line being filled.
struct Reading {
    RosterLine line;
    std::optional<Seconds> goal;
    HoldCounts counts{HoldCounts::all_phonation};
    MeanOfDays held;  // towards the goal, at home
};

struct Readings {
    std::vector<Reading> in_order;
    std::unordered_map<std::int64_t, std::size_t> by_client;
};

Readings read_lines(Connection& connection, Date today)
{
    Readings readings;
    Query query{connection, kLines};
    query.with(today);
    while (query.next()) {
        readings.by_client.emplace(query.take<std::int64_t>(), readings.in_order.size());
        Reading& reading = readings.in_order.emplace_back();
        RosterLine& line = reading.line;
        line.client = query.take<Id>();
        line.code = query.take<std::string>();
        line.standing = query.take<Standing>();
        line.last_practice = query.take<std::optional<Date>>();
        line.asked_a_week = query.take<int>();
        reading.goal = query.take<std::optional<Seconds>>();
        reading.counts = query.take<std::optional<HoldCounts>>().value_or(reading.counts);
    }
    return readings;
}

HoldTotals take_totals(Query& query)
{
    HoldTotals totals;
    totals.holds = query.take<int>();
    totals.time = query.take<Seconds>();
    totals.in_band_holds = query.take<int>();
    totals.in_band = query.take<Seconds>();
    return totals;
}

void add_practice(Query& query, Reading& reading)
{
    const auto day = query.take<Date>();
    PracticeFacts facts;
    facts.kind = query.take<PracticeKind>();
    facts.completion = query.take<Completion>();
    facts.trials = query.take<int>();
    const HoldTotals totals = take_totals(query);
    reading.line.reported_discomfort |= query.take<bool>();
    reading.line.practices_this_week += is_done_at_home(facts) ? 1 : 0;
    if (facts.kind != PracticeKind::at_home) return;
    if (reading.counts == HoldCounts::in_band_only)
        reading.held.add(day, totals.in_band, totals.in_band_holds);
    else
        reading.held.add(day, totals.time, totals.holds);
}

std::optional<double> goal_share_of(const Reading& reading)
{
    const std::optional<Seconds> held = reading.held.value();
    if (!reading.goal || !held || *reading.goal <= Seconds{}) return std::nullopt;
    return *held / *reading.goal;
}

void is_done_at_home_in_sql(sqlite3_context* context, int, sqlite3_value** values)
{
    const auto text_of = [](sqlite3_value* value) {
        const void* text = sqlite3_value_text(value);
        return text == nullptr ? std::string_view{} : static_cast<const char*>(text);
    };
    // A word that names nothing is noted as damage where the practice itself is read.
    const PracticeFacts facts{
        .kind = named_in<PracticeKind>(text_of(values[0])).value_or(PracticeKind::in_session),
        .completion = named_in<Completion>(text_of(values[1])).value_or(Completion::not_today),
        .trials = sqlite3_value_int(values[2])};
    sqlite3_result_int(context, is_done_at_home(facts) ? 1 : 0);
}

}  // namespace

void add_rules(Connection& connection)
{
    connection.database().createFunction("is_done_at_home", 3, true, nullptr,
                                         is_done_at_home_in_sql);
}

std::vector<RosterLine> read_roster(Connection& connection, Date today)
{
    Readings readings = read_lines(connection, today);
    Query query{connection, kWeek};
    query.with(day_after(today, std::chrono::days{1} - kSevenDays), today);
    while (query.next())
        add_practice(query, readings.in_order[readings.by_client.at(query.take<std::int64_t>())]);
    std::vector<RosterLine> lines;
    lines.reserve(readings.in_order.size());
    for (Reading& reading : readings.in_order) {
        reading.line.goal_share = goal_share_of(reading);
        lines.push_back(std::move(reading.line));
    }
    return lines;
}

}  // namespace holdwell
