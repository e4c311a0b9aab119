#pragma once
// Recordings: sound files in, mono samples out, and back.
//
// In:    WAV, FLAC, OGG or AIFF; 8 000 .. 192 000 samples a second; 1 .. 32 channels.
// Out:   mono samples, -1 .. +1 (a file of floats may go beyond), at the file's own rate; of
// several
//        channels the one with the most energy over the whole file.
// State: a block of 4 096 frames; a file of any length is read piece by piece.
// NaN and infinite samples are read as silence and counted. A failure is one sentence,
// "NAME: what is wrong; what to do".

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "dsp/units.h"

namespace holdwell {

inline constexpr SampleRate kLowestSampleRate{8'000.0};
inline constexpr SampleRate kHighestSampleRate{192'000.0};
inline constexpr int kMostChannels = 32;

struct RecordingFormat {
    SampleRate sample_rate{};
    // As the file says, what can be read may be less; absent: it does not say.
    std::optional<SampleCount> length{};
    int channels{1};
    int channel{0};  // the one that is read, from 0
};

class RecordingReader {
public:
    static Result<RecordingReader> open(const std::string& path);
    ~RecordingReader();
    RecordingReader(RecordingReader&&) noexcept;
    RecordingReader& operator=(RecordingReader&&) noexcept;

    const RecordingFormat& format() const;

    // Fills `into` from its beginning; fewer samples than it holds only at the end. [any]
    std::size_t read(std::span<float> into);

    // Samples so far that were no numbers and were read as silence.
    SampleCount replaced() const;

    // Once everything has been read: one sentence if the file holds less than its header promises,
    // or an OGG file has no end (RFC 3533, section 6: its last page is marked).
    std::optional<std::string> shortfall() const;

private:
    struct State;
    explicit RecordingReader(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

// A recording that fits in memory.
struct Recording {
    std::vector<float> samples;  // mono
    SampleRate sample_rate{};
    SampleCount replaced{};                  // were no numbers, and are 0 in `samples`
    std::optional<std::string> shortfall{};  // one sentence: less than it should hold
};

// The whole of a file of at most one hour.
Result<Recording> read_recording(const std::string& path);

enum class Encoding { wav_16_bit, wav_24_bit, wav_float, flac_16_bit, flac_24_bit };

// Replaces a file of that name. Samples beyond full scale are clipped, except with wav_float.
Outcome write_recording(const std::string& path, const Recording& recording, Encoding encoding);

// "NAME: at 3 places the recording holds no number; ..." or nothing when none was replaced.
std::optional<std::string> sentence_on_replaced(const std::string& path, SampleCount replaced);

}  // namespace holdwell
