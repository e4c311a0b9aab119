// Estimators written by others agree with ours where they are known to be right: aubio 0.4.9's yin
// and fcomb on clear voices.

#include <doctest/doctest.h>

#include "tests/bench/pitch_method.h"
#include "tests/support/pitch_score.h"

namespace holdwell {

namespace {

// Median of the steady middle.
double median_hz(const bench::MethodKind& kind, const test::ScriptedTake& take)
{
    const auto course = bench::estimates_of(kind, take.samples, take.rate);
    std::vector<double> hz;
    for (std::size_t k = course.size() / 3; k < 2 * course.size() / 3; ++k)
        if (course[k].f0) hz.push_back(course[k].f0->value);
    REQUIRE(hz.size() > 20);
    return test::quantile(hz, 0.5);
}

}  // namespace

TEST_CASE("aubio's yin and fcomb read the same f0 in a clear voice as we do")
{
    for (const double f0_hz : {130.81, 174.61, 220.0, 261.63, 349.23, 392.0}) {
        for (const test::Vowel vowel : {test::Vowel::a, test::Vowel::o}) {
            CAPTURE(f0_hz);
            const test::ScriptedTake take =
                test::SignalScript{SampleRate{44'100.0}, 3}
                    .voice({.f0 = test::steady(Hertz{f0_hz}),
                            .tract = test::tract_of(vowel, test::Speaker::low)},
                           Seconds{1.0})
                    .build();
            const auto& kinds = bench::method_kinds();
            const double ours = median_hz(kinds[0], take);
            for (const std::size_t other : {std::size_t{1}, std::size_t{5}}) {
                CAPTURE(kinds[other].name);
                const double theirs = median_hz(kinds[other], take);
                CHECK(std::abs(interval_between(Hertz{theirs}, Hertz{ours}).value) <= 1.0);
            }
        }
    }
}

}  // namespace holdwell
