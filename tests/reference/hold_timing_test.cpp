// The hold timer on generated notes of every kind, at signal-to-noise ratios of 20 dB and more,
// and on sounds that are none. Truth: the generator's own edges (tests/support/hold_gallery.h).
// For comparison: a person with a stopwatch is off by about 200 ms.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/bench/hold_method.h"
#include "tests/support/hold_gallery.h"
#include "tests/support/pitch_score.h"

namespace holdwell {

namespace {

constexpr ListeningTask kTask{.sought = Sought::hold};
constexpr int kFiles = 12;

const test::HoldCategory& category(const std::string& name)
{
    const auto& all = test::hold_categories();
    const auto found = std::ranges::find(all, name, &test::HoldCategory::name);
    REQUIRE(found != all.end());
    return *found;
}

double size_ms(const std::vector<double>& signed_ms, double share)
{
    std::vector<double> sizes;
    for (const double ms : signed_ms) sizes.push_back(std::abs(ms));
    return test::quantile(sizes, share);
}

test::HoldErrors errors_on(const std::string& name)
{
    test::HoldErrors sum;
    for (int k = 0; k < kFiles; ++k) {
        const test::ScriptedTake take = test::make_take(category(name), k);
        sum.add(test::errors_of(bench::holds_heard_in(take, kTask),
                                test::true_holds_of(take, kTask.bridge)));
    }
    return sum;
}

void check_timing(const std::string& name)
{
    CAPTURE(name);
    const test::HoldErrors e = errors_on(name);
    REQUIRE(e.holds >= kFiles);
    CHECK(e.missed == 0);
    CHECK(e.invented == 0);
    CHECK(e.gaps_missed == 0);
    CHECK(size_ms(e.onset_ms, 0.5) <= 15.0);
    CHECK(size_ms(e.onset_ms, 0.95) <= 40.0);
    CHECK(size_ms(e.duration_ms, 0.5) <= 40.0);
    CHECK(size_ms(e.duration_ms, 0.95) <= 100.0);
}

}  // namespace

TEST_CASE("holds are timed within 40 ms at 40, 30 and 20 dB over the room")
{
    for (const char* name : {"snr 40", "snr 30", "snr 20"}) check_timing(name);
}
TEST_CASE("holds of 15 to 25 s are timed as well as short ones") { check_timing("15 to 25 s"); }
TEST_CASE("a quiet hold, -50 dBFS in a room of -75 dBFS, is not ended early")
{
    check_timing("-50 in -75 dBFS");
}
TEST_CASE("a breathy hold is timed") { check_timing("breathy"); }
TEST_CASE("gaps under the limit are bridged and listed, longer ones end the hold")
{
    for (const char* name : {"gap 20-100 ms", "gap 100-270 ms", "gap 340-600 ms"})
        check_timing(name);
}
TEST_CASE("a breath taken ends the hold, a voice that stays away for a moment does not")
{
    for (const char* name : {"in-breath 180-260 ms", "airy gap", "gap in a room"})
        check_timing(name);
}
TEST_CASE("a room's decay is not counted") { check_timing("reverberant"); }
TEST_CASE("slow and abrupt beginnings and ends are timed")
{
    for (const char* name : {"slow edges", "abrupt edges", "1 s fade"}) check_timing(name);
}
TEST_CASE("pitch alone does not stop the clock") { check_timing("wandering pitch"); }
TEST_CASE("breath before and after is not part of the hold") { check_timing("breath about it"); }
TEST_CASE("fry at the end is not part of the hold") { check_timing("fry at the end"); }

TEST_CASE("talk, clicks, typing, doors, breath, /s/, fans and other people are no holds")
{
    for (const test::HoldCategory& c : test::not_hold_categories()) {
        CAPTURE(c.name);
        int timed = 0;
        for (int k = 0; k < kFiles; ++k)
            timed += static_cast<int>(bench::holds_heard_in(test::make_take(c, k), kTask).size());
        CHECK(timed == 0);
    }
}

TEST_CASE("time in band counts only the part near the note, and the octave is named")
{
    const Hertz target{349.23};
    const ListeningTask task{.sought = Sought::hold, .target = target, .band = Cents{100.0}};
    const auto sung = [&](double first_cents, double second_cents) {
        test::Voice v{.f0 = test::joined(test::steady(transposed(target, Cents{first_cents})),
                                         Seconds{3.0},
                                         test::steady(transposed(target, Cents{second_cents}))),
                      .jitter_percent = 0.4};
        const auto take = test::SignalScript{SampleRate{48'000.0}, 2}
                              .silence(800ms)
                              .voice(v, Seconds{5.0})
                              .silence(1s)
                              .with_noise(test::NoiseKind::room, Dbfs{-70.0})
                              .build();
        const auto holds = bench::heard_in(take, task).holds;
        REQUIRE(holds.size() == 1);
        return holds[0];
    };
    SUBCASE("all of it inside")
    {
        const Hold h = sung(-30.0, 40.0);
        CHECK(h.in_band->count() == doctest::Approx(5.0).epsilon(0.02));
        CHECK(h.octaves_off == 0);
    }
    SUBCASE("the last two seconds 150 cents flat")
    {
        const Hold h = sung(0.0, -150.0);
        CHECK(h.in_band->count() == doctest::Approx(3.0).epsilon(0.03));
        CHECK(duration_of(h.offset - h.onset, SampleRate{48'000.0}).count() ==
              doctest::Approx(5.0).epsilon(0.02));
    }
    SUBCASE("the right note an octave below")
    {
        const Hold h = sung(-1200.0, -1190.0);
        CHECK(h.octaves_off == -1);
    }
}

}  // namespace holdwell
