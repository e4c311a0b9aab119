#pragma once
// Quantities as types: what a number measures is part of its type, and conversions have names.
//
// Every type is an aggregate with one member, `value`; nothing converts by itself.
// A place (SampleIndex, Dbfs, Hertz) and a distance (SampleCount, Decibels, Cents) are different
// types, and only the sensible operators exist. Spans of time are std::chrono.

#include <chrono>
#include <cmath>
#include <compare>
#include <cstdint>

namespace holdwell {

using namespace std::chrono_literals;
using Seconds = std::chrono::duration<double>;

struct Hertz {
    double value{};
    auto operator<=>(const Hertz&) const = default;
};

// Samples per second, e.g. 48 000.
struct SampleRate {
    double hz{};
    auto operator<=>(const SampleRate&) const = default;
};

// A number of samples between two instants.
struct SampleCount {
    std::int64_t value{};
    auto operator<=>(const SampleCount&) const = default;
};

// An instant, counted in samples from the start of the stream.
struct SampleIndex {
    std::int64_t value{};
    auto operator<=>(const SampleIndex&) const = default;
};

// A level against full scale, as RMS: a full-scale square wave is 0, a full-scale sine -3.01.
struct Dbfs {
    double value{};
    auto operator<=>(const Dbfs&) const = default;
};

// A step between two levels.
struct Decibels {
    double value{};
    auto operator<=>(const Decibels&) const = default;
};

// An interval between two frequencies; 100 to the equal-tempered semitone.
struct Cents {
    double value{};
    auto operator<=>(const Cents&) const = default;
};

// An interval between two frequencies; 12 to the octave.
struct Semitones {
    double value{};
    auto operator<=>(const Semitones&) const = default;
};

// The lowest level we report: digital silence and everything below it.
inline constexpr Dbfs kDigitalSilence{-120.0};

constexpr Decibels operator-(Dbfs a, Dbfs b) { return {a.value - b.value}; }
constexpr Dbfs operator+(Dbfs a, Decibels b) { return {a.value + b.value}; }
constexpr Dbfs operator-(Dbfs a, Decibels b) { return {a.value - b.value}; }
constexpr SampleCount operator-(SampleIndex a, SampleIndex b) { return {a.value - b.value}; }
constexpr SampleIndex operator+(SampleIndex a, SampleCount n) { return {a.value + n.value}; }
constexpr SampleIndex operator-(SampleIndex a, SampleCount n) { return {a.value - n.value}; }
constexpr SampleCount operator+(SampleCount a, SampleCount b) { return {a.value + b.value}; }
constexpr Cents operator-(Cents a) { return {-a.value}; }

constexpr Seconds duration_of(SampleCount n, SampleRate rate)
{
    return Seconds{static_cast<double>(n.value) / rate.hz};
}

// The instant counted in seconds from the start of the stream.
constexpr Seconds time_of(SampleIndex at, SampleRate rate)
{
    return duration_of(SampleCount{at.value}, rate);
}

// Rounded to the nearest sample.
inline SampleCount samples_in(Seconds d, SampleRate rate)
{
    return {std::llround(d.count() * rate.hz)};
}

// Level of a signal whose mean square is `mean_square` (full scale = 1); never below digital
// silence.
inline Dbfs level_of(double mean_square)
{
    constexpr double kFloor = 1e-12;  // -120 dB
    return {mean_square > kFloor ? 10.0 * std::log10(mean_square) : kDigitalSilence.value};
}

inline double mean_square_of(Dbfs level) { return std::pow(10.0, level.value / 10.0); }

// Factor on amplitudes.
inline double gain_of(Decibels step) { return std::pow(10.0, step.value / 20.0); }

// Positive when f is the higher.
inline Cents interval_between(Hertz reference, Hertz f)
{
    return {1200.0 * std::log2(f.value / reference.value)};
}

inline Semitones semitones_between(Hertz reference, Hertz f)
{
    return {12.0 * std::log2(f.value / reference.value)};
}

inline Hertz transposed(Hertz f, Cents by) { return {f.value * std::exp2(by.value / 1200.0)}; }

}  // namespace holdwell
