#pragma once
// The envelope of a stretch of sound, and where a voice begins and ends on it.
//
// One value every quarter of a hop (2.5 ms): mean square in the voice band. Edges are read off a
// 10 ms mean of it, so that the periods of a low voice do not show.

#include <optional>
#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

class Envelope {
public:
    static constexpr std::int64_t kPerHop = 4;
    // hop: samples in four values; 441 at 44.1 kHz, so a value is no whole number of samples.
    explicit Envelope(SampleCount hop) : hop_{hop} {}

    void begin_at(SampleIndex first);
    void push(std::span<const float> powers);
    // Forgets all but the last `kept` values.
    void keep_last(std::size_t kept);

    std::size_t size() const { return powers_.size(); }
    // 10 ms mean about value i.
    Dbfs level(std::size_t i) const;
    // The same of all values in [first, last), as mean squares.
    std::vector<double> means(std::size_t first, std::size_t last) const;
    // The value that holds an instant, clamped to what is there; size() must not be 0.
    std::size_t index_of(SampleIndex at) const;
    SampleIndex time_of_value(std::size_t i) const;
    // Level that a share of the values in [first, last) lies below; 0.5 is the median.
    Dbfs quantile(std::size_t first, std::size_t last, double share) const;

private:
    // 10 ms mean about value i, a mean square.
    double mean_about(std::size_t i) const;

    SampleCount hop_;
    SampleIndex origin_{};       // of the first value ever pushed
    std::int64_t forgotten_{0};  // values since then that are no longer kept
    std::vector<float> powers_;
};

// Level that a share of these mean squares lies below; 0.5 is the median. In linear time.
Dbfs quantile_of(std::span<const double> means, double share);

// What a voice has come to in its first 400 ms.
Dbfs level_settled_at(const Envelope& envelope, SampleIndex first_voiced);

// Where a voice begins: 20 dB below `settled`, or 6 dB over the room if that is higher; no earlier
// than 30 ms before the first window that repeats, so that air before the voice does not count.
SampleIndex find_onset(const Envelope& envelope, SampleIndex first_voiced, Dbfs settled, Dbfs room);

// Where a voice ends: 20 dB below its last level, or 6 dB over the room. A room keeps sounding, and
// stays periodic: when the level falls evenly in dB (or ever more slowly) and faster than a voice
// fades, that is the room, and the voice ended where the fall began.
SampleIndex find_offset(const Envelope& envelope, SampleIndex onset, SampleIndex last_voiced,
                        Dbfs room);

}  // namespace holdwell
