// Expected times and levels follow from how each envelope is built here.

#include "dsp/envelope.h"

#include <doctest/doctest.h>

#include <cmath>

namespace holdwell {

namespace {

constexpr Dbfs kRoom{-80.0};

// Values of 2.5 ms at a level.
void push(Envelope& e, int values, double level_dbfs)
{
    const std::vector<float> powers(static_cast<std::size_t>(values),
                                    static_cast<float>(mean_square_of(Dbfs{level_dbfs})));
    e.push(powers);
}

// A fall in even steps of dB.
void push_fall(Envelope& e, int values, double from_dbfs, double to_dbfs)
{
    for (int i = 0; i < values; ++i) {
        push(e, 1, from_dbfs + (to_dbfs - from_dbfs) * i / values);
    }
}

Envelope envelope_at(SampleRate rate)
{
    Envelope e{samples_in(10ms, rate)};
    e.begin_at(SampleIndex{0});
    return e;
}

double ms_of(SampleIndex at, SampleRate rate) { return 1000.0 * time_of(at, rate).count(); }

}  // namespace

TEST_CASE("an envelope keeps time to a sample for a minute, at any rate")
{
    for (const double hz : {8000.0, 11'025.0, 44'100.0, 48'000.0, 192'000.0}) {
        CAPTURE(hz);
        Envelope e = envelope_at(SampleRate{hz});
        push(e, 24'000, -20.0);
        const double hop = static_cast<double>(samples_in(10ms, SampleRate{hz}).value);
        const double middle_of_last = (23'999 + 0.5) * hop / 4.0;
        CHECK(std::abs(static_cast<double>(e.time_of_value(23'999).value) - middle_of_last) < 1.0);
        CHECK(e.index_of(e.time_of_value(23'999)) == 23'999);
        e.keep_last(401);
        CHECK(std::abs(static_cast<double>(e.time_of_value(400).value) - middle_of_last) < 1.0);
        CHECK(e.index_of(e.time_of_value(400)) == 400);
    }
}

TEST_CASE("a quantile of levels is that of the values")
{
    Envelope e = envelope_at(SampleRate{48'000.0});
    push(e, 300, -60.0);
    push(e, 700, -20.0);
    CHECK(e.quantile(0, 1000, 0.5).value == doctest::Approx(-20.0).epsilon(1e-3));
    CHECK(e.quantile(0, 1000, 0.1).value == doctest::Approx(-60.0).epsilon(1e-3));
}

TEST_CASE("a voice begins and ends where it passes 20 dB below its level")
{
    const SampleRate rate{44'100.0};
    Envelope e = envelope_at(rate);
    push(e, 400, -80.0);   // 1 s of room
    push(e, 4000, -20.0);  // 10 s of voice
    push(e, 200, -80.0);
    const SampleIndex onset = find_onset(e, e.time_of_value(405), Dbfs{-20.0}, kRoom);
    const SampleIndex offset = find_offset(e, onset, e.time_of_value(4395), kRoom);
    CHECK(std::abs(ms_of(onset, rate) - 1000.0) <= 7.5);  // half the 10 ms mean, and a value
    CHECK(std::abs(ms_of(offset, rate) - 11'000.0) <= 7.5);
}

TEST_CASE("a room's decay is not the voice, a slow fade is")
{
    const SampleRate rate{48'000.0};
    struct Row {
        const char* what;
        int values;     // of a fall by 40 dB
        double end_ms;  // from the beginning of the fall
        double within_ms;
    };
    // An even fall in dB is what reverberation does: 60 dB in the reverberation time (ISO 3382-2).
    const Row rows[] = {
        {"reverberation time 0.6 s", 160, 0.0, 50.0},
        // 25 dB a second: within its last second a voice that fades so never passes 20 dB below
        // what it had come to, so it is voice to its end.
        {"a fade of 1.6 s", 640, 1600.0, 50.0},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        Envelope e = envelope_at(rate);
        push(e, 2000, -20.0);
        push_fall(e, row.values, -20.0, -60.0);
        push(e, 200, -80.0);
        const auto last = static_cast<std::size_t>(2000 + row.values - 10);
        const SampleIndex end = find_offset(e, SampleIndex{0}, e.time_of_value(last), kRoom);
        CHECK(std::abs(ms_of(end, rate) - 5000.0 - row.end_ms) <= row.within_ms);
    }
}

}  // namespace holdwell
