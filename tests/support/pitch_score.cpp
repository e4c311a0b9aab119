#include "tests/support/pitch_score.h"

#include <algorithm>
#include <cmath>

namespace holdwell::test {

namespace {
constexpr Seconds kInside{0.1};
}

PitchErrors errors_of(std::span<const Estimate> estimates, const ScriptedTake& take, Seconds delay)
{
    PitchErrors errors;
    for (const Estimate& e : estimates) {
        const Seconds t = e.time - delay;
        if (!take.voiced_throughout(t, kInside)) continue;
        const auto truth = take.f0_at(t);
        if (!truth) continue;
        if (e.f0)
            errors.cents.push_back(interval_between(*truth, *e.f0).value);
        else
            ++errors.without_estimate;
    }
    return errors;
}

PitchErrors joined(std::span<const PitchErrors> parts)
{
    PitchErrors all;
    for (const PitchErrors& p : parts) {
        all.cents.insert(all.cents.end(), p.cents.begin(), p.cents.end());
        all.without_estimate += p.without_estimate;
    }
    return all;
}

double quantile(std::vector<double> values, double share)
{
    if (values.empty()) return 0.0;
    const auto rank =
        static_cast<std::size_t>(share * static_cast<double>(values.size() - 1) + 0.5);
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(rank),
                     values.end());
    return values[rank];
}

PitchScore score_of(const PitchErrors& errors)
{
    PitchScore score;
    std::vector<double> fine;
    int gross = 0;
    for (const double c : errors.cents) {
        if (std::abs(c) < 100.0) fine.push_back(std::abs(c));
        if (!(std::abs(c) <= 50.0)) ++gross;
    }
    const auto estimated = static_cast<int>(errors.cents.size());
    score.frames = estimated + errors.without_estimate;
    score.fine_frames = static_cast<int>(fine.size());
    score.estimated_frames = estimated;
    if (score.frames == 0) return score;
    score.median_cents = quantile(fine, 0.5);
    score.p95_cents = quantile(fine, 0.95);
    score.gross_percent = estimated > 0 ? 100.0 * gross / estimated : 0.0;
    score.usable_percent = 100.0 * (estimated - gross) / score.frames;
    score.silent_percent = 100.0 * errors.without_estimate / score.frames;
    return score;
}

Seconds delay_of(std::span<const std::vector<Estimate>> courses,
                 std::span<const ScriptedTake> takes)
{
    constexpr Seconds kStep{0.005};
    double delay_s = 0.0;
    // Errors of a late estimate are large at first: the fit is repeated about the last answer.
    for (int round = 0; round < 4; ++round) {
        double products = 0.0;
        double squares = 0.0;
        for (std::size_t k = 0; k < courses.size(); ++k) {
            for (const Estimate& e : courses[k]) {
                const Seconds t = e.time - Seconds{delay_s};
                if (!e.f0 || !takes[k].voiced_throughout(t, kInside)) continue;
                const Hertz truth = *takes[k].f0_at(t);
                const double error = interval_between(truth, *e.f0).value;
                if (std::abs(error) > 200.0) continue;
                const double slope =
                    interval_between(*takes[k].f0_at(t - kStep), *takes[k].f0_at(t + kStep)).value /
                    (2.0 * kStep.count());
                products += error * slope;
                squares += slope * slope;
            }
        }
        if (squares > 0.0) delay_s -= products / squares;
    }
    return Seconds{delay_s};
}

VoicingErrors voicing_errors_of(std::span<const Estimate> estimates, const ScriptedTake& take,
                                Seconds margin)
{
    VoicingErrors errors;
    for (const Estimate& e : estimates) {
        if (take.voiced_throughout(e.time, margin)) {
            ++errors.voiced_frames;
            if (!e.f0) ++errors.missed;
        } else if (take.voiceless_throughout(e.time, margin)) {
            ++errors.voiceless_frames;
            if (e.f0) ++errors.falsely_voiced;
        }
    }
    return errors;
}

}  // namespace holdwell::test
