#include "app/engine/sound_check.h"

#include <doctest/doctest.h>

#include <array>

using namespace holdwell;

namespace {

FrameReading hop(Phonation phonation, Dbfs level)
{
    FrameReading reading;
    reading.phonation = phonation;
    reading.hop_level = level;
    return reading;
}

void push(SoundCheck& check, const FrameReading& reading, int hops)
{
    for (int i = 0; i < hops; ++i) check.push(reading);
}

constexpr int kTwoSeconds = 200;  // hops of 10 ms
constexpr int kSecondAndAHalf = 150;
constexpr Dbfs kRoom{-60.0};

}  // namespace

TEST_CASE("the verdict changes at 20 and at 10 dB of voice over the room")
{
    struct Row {
        double snr;
        RoomVerdict verdict;
    };
    // The margins are those the header cites.
    constexpr std::array<Row, 5> kRows{{{35.0, RoomVerdict::quiet},
                                        {20.0, RoomVerdict::quiet},
                                        {19.5, RoomVerdict::usable},
                                        {10.0, RoomVerdict::usable},
                                        {9.5, RoomVerdict::noisy}}};
    for (const Row& row : kRows) {
        CAPTURE(row.snr);
        SoundCheck check;
        push(check, hop(Phonation::silence, kRoom), kTwoSeconds);
        push(check, hop(Phonation::voiced, kRoom + Decibels{row.snr}), kSecondAndAHalf);
        const auto result = check.result();
        REQUIRE(result);
        CHECK(result->room == row.verdict);
        CHECK(result->snr.value == doctest::Approx(row.snr));
        CHECK(result->noise_floor == kRoom);
    }
}

TEST_CASE("the room takes two seconds without voice, the voice a second and a half")
{
    SoundCheck check;
    push(check, hop(Phonation::voiced, {-20.0}), 100);  // somebody speaks at once
    push(check, hop(Phonation::silence, kRoom), kTwoSeconds - 1);
    CHECK_FALSE(check.knows_room());
    push(check, hop(Phonation::silence, kRoom), 1);
    CHECK(check.knows_room());
    push(check, hop(Phonation::voiced, {-30.0}), kSecondAndAHalf - 1);
    push(check, hop(Phonation::breath, {-50.0}), 100);
    CHECK_FALSE(check.result());
    push(check, hop(Phonation::voiced, {-30.0}), 1);
    const auto result = check.result();
    REQUIRE(result);
    CHECK(result->noise_floor == kRoom);
    CHECK(result->voice_level == Dbfs{-30.0});
}

TEST_CASE("one slammed door does not change the room")
{
    SoundCheck check;
    push(check, hop(Phonation::silence, kRoom), 90);
    push(check, hop(Phonation::breath, {-10.0}), 30);
    push(check, hop(Phonation::silence, kRoom), 80);
    push(check, hop(Phonation::voiced, {-30.0}), kSecondAndAHalf);
    const auto result = check.result();
    REQUIRE(result);
    CHECK(result->noise_floor == kRoom);
}

TEST_CASE("the A-weighted level is the room's, without voice, and absent where it was not measured")
{
    const auto weighted_room = [](std::optional<Dbfs> room, std::optional<Dbfs> voice) {
        SoundCheck check;
        for (int i = 0; i < 50; ++i) check.push(hop(Phonation::voiced, {-20.0}), voice);
        for (int i = 0; i < kTwoSeconds; ++i) check.push(hop(Phonation::silence, kRoom), room);
        for (int i = 0; i < kSecondAndAHalf; ++i)
            check.push(hop(Phonation::voiced, {-20.0}), voice);
        const auto result = check.result();
        REQUIRE(result);
        return result->a_weighted_room;
    };
    CHECK(weighted_room(Dbfs{-68.0}, Dbfs{-25.0}) == Dbfs{-68.0});
    CHECK_FALSE(weighted_room({}, {}));
    CHECK_FALSE(weighted_room({}, Dbfs{-25.0}));
}

TEST_CASE("clipped samples are counted over the whole check")
{
    SoundCheck check;
    push(check, hop(Phonation::silence, kRoom), kTwoSeconds);
    FrameReading loud = hop(Phonation::voiced, {-3.0});
    loud.clipped_samples = 4;
    push(check, loud, kSecondAndAHalf);
    const auto result = check.result();
    REQUIRE(result);
    CHECK(result->clipped_samples == 600);  // 150 hops of 4
}
