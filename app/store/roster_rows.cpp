#include "app/store/rows.h"

namespace holdwell {
namespace {

// Done: complete, or begun and at least one trial made; at home, or entered by hand.
#define HOLDWELL_DONE(p)                                                                           \
    p ".kind <> 'in_session' AND " p ".completion <> 'not_today' AND (" p                          \
      ".completion = 'complete' OR " p ".trials > 0)"

// One line a client. The aggregates run over her practices of the week alone, which the index by
// day finds; a practice's own sums save opening its trials.
constexpr const char* kRoster =
    R"sql(
    SELECT c.id, c.code, c.standing,
        (SELECT p.begun_date FROM practice p
         WHERE p.client_key = c.client_key AND )sql" HOLDWELL_DONE("p") R"sql(
         ORDER BY p.begun_date DESC LIMIT 1),
        count(w.practice_key) FILTER (WHERE )sql" HOLDWELL_DONE("w") R"sql(),
        coalesce(plan.asked_a_week, 0), plan.goal_s, plan.hold_counts,
        coalesce(sum(w.counted_holds) FILTER (WHERE w.kind = 'at_home'), 0),
        total(w.counted_hold_s) FILTER (WHERE w.kind = 'at_home'),
        total(w.counted_in_band_s) FILTER (WHERE w.kind = 'at_home'),
        coalesce(max(w.pain OR w.completion = 'stopped_for_discomfort'
                     OR coalesce(w.discomfort, 0) > 0), 0)
    FROM client c
    LEFT JOIN practice w ON w.client_key = c.client_key AND w.begun_date BETWEEN ? AND ?
    LEFT JOIN plan ON plan.client_key = c.client_key AND plan.plan_key =
        (SELECT max(plan_key) FROM plan newest WHERE newest.client_key = c.client_key)
    GROUP BY c.client_key ORDER BY c.code, c.id
)sql";

constexpr std::chrono::days kWeek{7};

// Mean counted hold over the goal in force.
std::optional<double> take_goal_share(Query& query)
{
    const auto goal = query.take<std::optional<Seconds>>();
    const auto counts = query.take<std::optional<HoldCounts>>();
    const auto holds = query.take<int>();
    const auto all = query.take<Seconds>();
    const auto in_band = query.take<Seconds>();
    if (!goal || !counts || holds == 0 || *goal <= Seconds{0.0}) return std::nullopt;
    return (*counts == HoldCounts::in_band_only ? in_band : all) / *goal / holds;
}

}  // namespace

std::vector<RosterLine> read_roster(Connection& connection, Date today)
{
    std::vector<RosterLine> lines;
    Query query{connection, kRoster};
    query.with(day_after(today, std::chrono::days{1} - kWeek), today);
    while (query.next()) {
        RosterLine& line = lines.emplace_back();
        line.client = query.take<Id>();
        line.code = query.take<std::string>();
        line.standing = query.take<Standing>();
        line.last_practice = query.take<std::optional<Date>>();
        line.practices_this_week = query.take<int>();
        line.asked_a_week = query.take<int>();
        line.goal_share = take_goal_share(query);
        line.reported_discomfort = query.take<bool>();
    }
    return lines;
}

}  // namespace holdwell
