#include "app/engine/sound_setup.h"

#include <doctest/doctest.h>

#include <array>

using namespace holdwell;

namespace {

CheckedSetup checked(double room, double voice)
{
    return {.microphone = "Desk microphone", .rate = {48'000.0}, .room = {room}, .voice = {voice}};
}

SplReference reference()
{
    return {.reading = {.meter = {74.0},
                        .weighting = Weighting::c,
                        .distance = {0.3},
                        .level = {-32.0}},
            .microphone = "Desk microphone",
            .rate = {48'000.0}};
}

}  // namespace

TEST_CASE("room and voice that moved together mean another input level")
{
    struct Row {
        double room, voice;  // dB since the check before
        bool changed;
    };
    // The limits are stated in the header: 6 dB together, 3 dB apart.
    constexpr std::array<Row, 7> kRows{{{8.0, 8.0, true},
                                        {-10.0, -8.0, true},
                                        {6.0, 6.0, true},
                                        {5.0, 6.0, false},
                                        {10.0, 0.0, false},  // a fan was switched on
                                        {0.0, 10.0, false},  // the voice was louder
                                        {7.0, -7.0, false}}};
    const CheckedSetup before = checked(-60.0, -30.0);
    for (const Row& row : kRows) {
        CAPTURE(row.room);
        CAPTURE(row.voice);
        const CheckedSetup now = checked(-60.0 + row.room, -30.0 + row.voice);
        CHECK(gain_change(before, now).has_value() == row.changed);
        CHECK(counted_on(before, now).input_level == (row.changed ? 2 : 1));
    }
    CheckedSetup other = checked(-50.0, -20.0);
    other.microphone = "Another";
    CHECK_FALSE(gain_change(before, other));
    CHECK(counted_on(before, other).input_level == 1);
    CHECK(counted_on(std::nullopt, before).input_level == 1);
}

TEST_CASE("a fingerprint is the same for the same set-up and another for any other")
{
    const CheckedSetup setup = checked(-60.0, -30.0);
    const std::string usual = setup_fingerprint(setup, std::nullopt);
    CHECK(usual == "Desk microphone, 48000 Hz");
    CHECK(setup_fingerprint(checked(-55.0, -28.0), std::nullopt) == usual);
    CheckedSetup slower = setup;
    slower.rate = {44'100.0};
    CHECK(setup_fingerprint(slower, std::nullopt) != usual);
    CheckedSetup louder = setup;
    louder.input_level = 2;
    CHECK(setup_fingerprint(louder, std::nullopt) == "Desk microphone, 48000 Hz, input level 2");
    CHECK(setup_fingerprint(setup, reference()) == "Desk microphone, 48000 Hz, 74 dB C at 30 cm");
    CHECK(setup_fingerprint(slower, reference()) == "Desk microphone, 44100 Hz");
}

TEST_CASE("serial numbers and places do not get into a fingerprint")
{
    struct Row {
        const char* device;
        const char* name;
    };
    constexpr std::array<Row, 4> kRows{
        {{"USB microphone 2107SG004X8", "USB microphone"},
         {"USB Audio: - (hw:1,0)", "USB Audio: -"},
         {"alsa_input.usb-maker_model_REV8_A00201234567-00.analog-stereo", "microphone"},
         {"", "microphone"}}};
    for (const Row& row : kRows) {
        CAPTURE(row.device);
        const CheckedSetup setup{.microphone = row.device, .rate = {48'000.0}};
        CHECK(setup_fingerprint(setup, std::nullopt) == std::string{row.name} + ", 48000 Hz");
    }
    const CheckedSetup endless{.microphone = std::string(500, 'm'), .rate = {192'000.0}};
    CHECK(setup_fingerprint(endless, reference()).size() <= 120);
}

TEST_CASE("a calibration holds for the microphone and the rate it was made with")
{
    const auto kept = calibration_for(reference(), "Desk microphone", {48'000.0});
    REQUIRE(kept);
    // 74 dB were read at -32 dBFS: 106 dB between the two scales.
    CHECK(kept->level_of({-50.0}).value == doctest::Approx(56.0));
    CHECK_FALSE(calibration_for(reference(), "Another", {48'000.0}));
    CHECK_FALSE(calibration_for(reference(), "Desk microphone", {44'100.0}));
    CHECK_FALSE(calibration_for(std::nullopt, "Desk microphone", {48'000.0}));
    SplReference weighted = reference();
    weighted.reading.weighting = Weighting::a;  // IEC 61672-1: A takes 16 dB off C3
    CHECK_FALSE(calibration_for(weighted, "Desk microphone", {48'000.0}));
}
