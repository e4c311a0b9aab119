#include "dsp/f0_tracker.h"

#include <doctest/doctest.h>

#include <array>

using namespace holdwell;

TEST_CASE("a frame without candidates is not voiced, and one dear candidate is not either")
{
    F0Tracker tracker{TrackerSettings{}};
    CHECK_FALSE(tracker.push(nullptr, 0, 1.0).voiced);
    const CostedCandidate dear{{220.0}, 5.0};
    const auto decision = tracker.push(&dear, 1, 0.0);
    CHECK_FALSE(decision.voiced);
    CHECK(decision.best == std::size_t{0});
}

TEST_CASE("one frame in which the octave looks a little better does not move the track")
{
    F0Tracker tracker{TrackerSettings{}};
    const std::array<CostedCandidate, 2> usual{{{{220.0}, 0.0}, {{440.0}, 1.0}}};
    const std::array<CostedCandidate, 2> odd{{{{220.0}, 0.5}, {{440.0}, 0.0}}};
    for (int i = 0; i < 20; ++i) CHECK(tracker.push(usual.data(), 2, 2.0).best == std::size_t{0});
    CHECK(tracker.push(odd.data(), 2, 2.0).best == std::size_t{0});
    CHECK(tracker.push(usual.data(), 2, 2.0).best == std::size_t{0});
}

TEST_CASE("a leap that lasts is followed in the end, and reset forgets the track")
{
    const std::array<CostedCandidate, 2> low{{{{220.0}, 0.0}, {{440.0}, 1.0}}};
    const std::array<CostedCandidate, 2> high{{{{220.0}, 1.0}, {{440.0}, 0.0}}};
    F0Tracker tracker{TrackerSettings{}};
    for (int i = 0; i < 20; ++i) (void)tracker.push(low.data(), 2, 3.0);
    F0Tracker::Decision last;
    for (int i = 0; i < 20; ++i) last = tracker.push(high.data(), 2, 3.0);
    CHECK(last.best == std::size_t{1});
    tracker.reset();
    CHECK(tracker.push(low.data(), 2, 3.0).best == std::size_t{0});
}
