#pragma once
// Quality of a held note, for the therapist: jitter, shimmer, harmonics to noise, and smoothed
// cepstral peak prominence, over the steady middle of the hold.
//
// In:    hops of mono samples from the beginning of a hold to its end, each with its reading.
// Out:   means over the voiced time, without the first and the last 0.3 s of it. Absent when the
//        signal does not allow them: fewer than 2 s, less than 30 dB over the room, not nearly
//        periodic (every second cycle alike counts as not), or sampled below 32 kHz.
// State: a fixed size, allocated by the constructor; push allocates nothing.
//
// With T_i the time from cycle mark i to the next and A_i the amplitude of cycle i:
//
//   jitter (local)  = mean |T_i - T_(i-1)| / mean T                        percent
//   shimmer (local) = mean |A_i - A_(i-1)| / mean A                        percent
//   hnr             = 10 log10(r / (1 - r)),  r = correlation of cycles    dB, at most 60
//   cpps            = mean height of the smoothed cepstrum's peak over its regression line, dB
//
// Jitter and shimmer (local): R. J. Baken and R. F. Orlikoff, "Clinical measurement of speech and
// voice", 2nd ed., 2000 (from memory). r as a ratio of energies: P. Boersma, Proc. Inst. Phonetic
// Sciences Amsterdam 17, 97-110, 1993 (from memory); we correlate cycles about 15 ms apart, since
// noise that went through a vocal tract still resembles itself one short cycle later.
// Cepstrum: dsp/cepstrum.h. Cycle marks: dsp/cycles.h.
//
// All are read from the sound, not from the glottis: a tract that rings on into the next cycle
// mixes the cycles, and at a high f0 the jitter of the sound may be half or twice that of its
// source. These figures are comparable with themselves: same device, distance and level. Published
// norms belong to other programs, to a comfortable /a/, and to other definitions.

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/frame_reading.h"
#include "dsp/hold.h"

namespace holdwell {

class QualityMeter {
public:
    explicit QualityMeter(const AnalysisConfig& config);
    ~QualityMeter();
    QualityMeter(QualityMeter&&) noexcept;
    QualityMeter& operator=(QualityMeter&&) noexcept;

    // hop.size() must equal hop_length(config). [any]
    void push(std::span<const float> hop, const FrameReading& reading) noexcept;
    // Of all that was pushed since reset().
    std::optional<Quality> result() const noexcept;
    void reset() noexcept;

private:
    struct Meter;
    std::unique_ptr<Meter> meter_;
};

}  // namespace holdwell
