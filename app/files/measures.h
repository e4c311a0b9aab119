#pragma once
// What was measured in one recording, and how it is written for other programs: one JSON object a
// line, or rows of CSV. Unknown values are null in JSON and empty in CSV, never 0.
//
// Units are in the names of keys and columns: _s seconds, _ms milliseconds, _hz hertz, _cents,
// _semitones, _dbfs RMS level against full scale (full-scale square wave 0), _db, _percent.
// Names and meanings are a promise to scripts: they are added to, never changed.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "dsp/listener.h"
#include "dsp/processing.h"

namespace holdwell {

struct Measured {
    SampleRate sample_rate{};
    SampleCount length{};             // as read
    std::optional<Dbfs> noise_floor;  // the room in the voice band, as known at the end
    std::int64_t clipped_samples{0};  // in runs of three or more at full scale
    SampleCount lost{};               // 0 for a file
    Heard heard;
    // Processing by the system that was heard at some time, in the order in which it was.
    std::vector<MicrophoneProcessing> processing{};
};

struct FileMeasures {
    std::string file;                     // the name as given
    std::optional<Measured> measured;     // absent when nothing could be read
    std::optional<std::string> error{};   // one sentence; may come with what could be measured
    std::vector<std::string> warnings{};  // one sentence each
};

// One object on one line, without the line's end. Bytes of a name that are not UTF-8 become the
// replacement character.
std::string as_json(const FileMeasures& measures);

// One row for every hold, /s/ hold, /z/ hold and glide, in that order; one row of the kind "none"
// for a file without any, one of the kind "error" for a file that could not be read as it should.
// Fields are quoted as RFC 4180 asks; every row ends with a newline.
std::string csv_heading();
std::string as_csv(const FileMeasures& measures);

// "time_s,f0_hz,confidence,level_dbfs,phonation" and its rows, one a hop.
std::string frames_heading();
std::string as_frames_row(const FrameReading& reading, SampleRate rate);

// The names that stand in JSON, CSV and text.
std::string name_of(OnsetClass onset);
std::string name_of(Phonation phonation);
std::string name_of(BreakKind kind);
std::string name_of(GlideDirection direction);
std::string name_of(Doubt doubt);
std::string name_of(MicrophoneProcessing kind);

}  // namespace holdwell
