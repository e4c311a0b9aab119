#include "tests/bench/pitch_checks.h"

#include <algorithm>
#include <cmath>

#include "tests/support/pitch_gallery.h"

namespace holdwell::bench {

Seconds fitted_delay(const MethodKind& kind)
{
    constexpr int kFiles = 6;
    std::vector<test::ScriptedTake> takes;
    std::vector<std::vector<test::Estimate>> courses;
    for (int k = 0; k < kFiles; ++k) {
        takes.push_back(test::make_delay_take(k));
        courses.push_back(estimates_of(kind, takes.back().samples, takes.back().rate));
    }
    return test::delay_of(courses, takes);
}

std::vector<double> waits_ms(const MethodKind& kind, const test::ScriptedTake& take)
{
    const auto course = estimates_of(kind, take.samples, take.rate);
    const Seconds hop = duration_of(hop_length(take.rate), take.rate);
    std::vector<double> waits;
    for (const test::TrueSound& s : take.sounds) {
        if (s.kind != test::SoundKind::voice) continue;
        for (std::size_t k = 0; k < course.size(); ++k) {
            const Seconds known = hop * static_cast<double>(k + 1);
            if (known < s.begin || !course[k].f0) continue;
            const auto truth = take.f0_at(s.begin + 30ms);
            if (std::abs(interval_between(*truth, *course[k].f0).value) > 50.0) continue;
            waits.push_back(1000.0 * (known - s.begin).count());
            break;
        }
    }
    return waits;
}

Cents bias_at(Hertz f0)
{
    constexpr SampleRate kRate{48'000.0};
    const test::ScriptedTake take =
        test::SignalScript{kRate, 5}
            .voice({.f0 = test::steady(f0), .source = test::Source::harmonics}, Seconds{0.4})
            .build();
    const auto course = estimates_of(method_kinds().front(), take.samples, kRate);
    const auto errors = test::errors_of(course, take, Seconds{0.0});
    double sum = 0.0;
    for (const double c : errors.cents) sum += c;
    return {sum / static_cast<double>(std::max<std::size_t>(1, errors.cents.size()))};
}

}  // namespace holdwell::bench
