#pragma once
// Practices written down by hand, for tables that are worked out on paper.

#include <cmath>
#include <string>
#include <vector>

#include "app/practice/records.h"

namespace holdwell::test {

inline constexpr Date kFirstDay{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};

// Day 1 is kFirstDay.
inline Date day(int number) { return day_after(kFirstDay, std::chrono::days{number - 1}); }

inline Trial hold_of(double seconds, DrillKind kind = DrillKind::warm_up_hold, Note note = kF4)
{
    HoldMeasures hold;
    hold.hold_time = Seconds{seconds};
    hold.in_band = Seconds{seconds};
    return {.kind = kind, .target = note, .measures = hold};
}

inline Trial glide_of(double semitones, int jumps, GlideDirection direction = GlideDirection::up)
{
    GlideMeasures glide{.direction = direction, .length = Seconds{5.0}};
    glide.lowest = Hertz{200.0};
    glide.highest = Hertz{200.0 * std::exp2(semitones / 12.0)};
    glide.jumps = jumps;
    return {.kind = direction == GlideDirection::up ? DrillKind::rising_glide
                                                    : DrillKind::falling_glide,
            .measures = glide};
}

// Complete, at home at eight o'clock, trials numbered; ids follow from the day.
inline Practice practice_on(int day_number, std::vector<Trial> trials)
{
    Practice practice{.id = {"practice " + std::to_string(day_number)}};
    practice.begun = {day(day_number), {std::chrono::hours{8}}};
    practice.completion = Completion::complete;
    practice.trials_asked = static_cast<int>(trials.size());
    practice.trials = std::move(trials);
    for (std::size_t i = 0; i < practice.trials.size(); ++i) {
        practice.trials[i].number = static_cast<int>(i) + 1;
        practice.trials[i].id.text = practice.id.text + ", trial " + std::to_string(i + 1);
    }
    return practice;
}

// Twice a day for six weeks, from day 1.
inline ClientFile file_with(std::vector<Practice> practices)
{
    Plan plan;
    plan.id.text = "plan";
    plan.written = kFirstDay;
    return {.client = {.code = "C-1"}, .plans = {plan}, .practices = std::move(practices)};
}

}  // namespace holdwell::test
