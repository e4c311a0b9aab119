#include "dsp/room_floor.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

namespace {

Dbfs push_for(RoomFloor& floor, Seconds length, Dbfs level, Evidence evidence)
{
    const int hops = static_cast<int>(std::lround(length / Seconds{10ms}));
    for (int i = 0; i < hops; ++i) (void)floor.push(mean_square_of(level), evidence);
    return level_of(floor.mean_square());
}

RoomFloor voice_band() { return RoomFloor{10ms, kVoiceBandRoom}; }

}  // namespace

TEST_CASE("the voice band's room is what is heard first, but not above -40 dBFS")
{
    RoomFloor quiet = voice_band();
    CHECK(push_for(quiet, 100ms, {-70.0}, Evidence::quiet).value == doctest::Approx(-70.0));
    RoomFloor loud = voice_band();
    CHECK(push_for(loud, 100ms, {-15.0}, Evidence::sounding).value == doctest::Approx(-40.0));
}

TEST_CASE("the voice band's room falls at once, rises by 3 dB a second, never under a sound")
{
    RoomFloor floor = voice_band();
    push_for(floor, 1s, {-50.0}, Evidence::quiet);
    CHECK(push_for(floor, 300ms, {-70.0}, Evidence::quiet).value < -66.0);
    push_for(floor, 3s, {-70.0}, Evidence::quiet);
    const double before = push_for(floor, 20s, {-20.0}, Evidence::sounding).value;
    CHECK(std::abs(before + 70.0) < 0.5);
    CHECK(std::abs(push_for(floor, 2s, {-50.0}, Evidence::quiet).value - (before + 6.0)) < 0.1);
    const double after = push_for(floor, 20s, {-50.0}, Evidence::quiet).value;
    CHECK(after <= -50.0);  // no higher than what is heard
    CHECK(after > -51.0);
}

TEST_CASE("a room that is known already is not learnt afresh")
{
    RoomFloor floor{10ms, kVoiceBandRoom, mean_square_of({-60.0})};
    CHECK_FALSE(floor.is_learning());
    CHECK(push_for(floor, 1s, {-20.0}, Evidence::sounding).value == doctest::Approx(-60.0));
}

TEST_CASE("a sound that has lasted so long that it is the room is adopted within seconds")
{
    RoomFloor floor{10ms};
    push_for(floor, 1s, {-70.0}, Evidence::quiet);
    CHECK(push_for(floor, 5s, {-50.0}, Evidence::sounding).value == doctest::Approx(-70.0));
    // Time constant 500 ms: 1 - exp(-4) of the way after 2 s, -0.08 dB.
    CHECK(std::abs(push_for(floor, 2s, {-50.0}, Evidence::part_of_room).value + 50.08) < 0.05);
}
