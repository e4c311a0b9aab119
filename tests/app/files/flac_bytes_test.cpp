#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "app/files/flac_bytes.h"
#include "tests/app/files/standard_error.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Recording tone(SampleRate rate, Seconds length)
{
    Recording recording;
    recording.sample_rate = rate;
    const auto count = samples_in(length, rate).value;
    for (std::int64_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / rate.hz;
        recording.samples.push_back(
            static_cast<float>(0.4 * std::sin(2.0 * std::numbers::pi * 220.0 * t)));
    }
    return recording;
}

}  // namespace

TEST_CASE("sound comes back from FLAC in memory as it was, to half a step of 16 bits")
{
    for (const double rate : {16'000.0, 44'100.0, 48'000.0}) {
        CAPTURE(rate);
        const Recording before = tone({rate}, Seconds{0.7});
        const auto flac = flac_of(before);
        REQUIRE(flac);
        // "fLaC" opens the stream: RFC 9639, section 6.
        REQUIRE(flac.value().size() > 4);
        CHECK(flac.value()[0] == std::byte{0x66});
        CHECK(flac.value()[3] == std::byte{0x43});
        CHECK(flac.value().size() < before.samples.size() * 2);  // smaller than the plain samples
        const auto after = sound_of_flac(flac.value());
        REQUIRE(after);
        CHECK(after.value().sample_rate == before.sample_rate);
        REQUIRE(after.value().samples.size() == before.samples.size());
        double worst = 0.0;
        for (std::size_t i = 0; i < before.samples.size(); ++i) {
            worst = std::max(worst, std::abs(static_cast<double>(after.value().samples[i]) -
                                             static_cast<double>(before.samples[i])));
        }
        CHECK(worst <= 1.0 / 32768.0);
    }
}

TEST_CASE("bytes that are no FLAC are refused, wherever they are cut or changed")
{
    const auto flac = flac_of(tone({16'000.0}, Seconds{0.2}));
    REQUIRE(flac);
    CHECK_FALSE(sound_of_flac({}));
    std::vector<std::byte> bytes(500, std::byte{0x55});
    CHECK_FALSE(sound_of_flac(bytes));
    // What a library takes for MPEG sound, and says so on the terminal.
    for (std::size_t i = 0; i + 4 < bytes.size(); i += 417) {
        bytes[i] = std::byte{0xFF};
        bytes[i + 1] = std::byte{0xFB};
        bytes[i + 2] = std::byte{0x90};
    }
    {
        const StandardErrorWatch watch;
        CHECK_FALSE(sound_of_flac(bytes));
        CHECK(watch.text().empty());
    }
    bytes = flac.value();
    bytes.resize(20);
    CHECK_FALSE(sound_of_flac(bytes));
}
