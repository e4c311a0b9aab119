#include "dsp/frame_analyzer.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "dsp/f0_estimator.h"
#include "dsp/level.h"
#include "dsp/room_floor.h"

namespace holdwell {

namespace {

// Two pulses of a fry look like a low voice to a window that holds both. Out of a fry, a voice
// below this is believed when it has lasted so many hops.
constexpr Hertz kPairOfPulses{78.0};
constexpr int kHopsOfAPair = 5;

}  // namespace

struct FrameAnalyzer::Chain {
    explicit Chain(const AnalysisConfig& c)
        : config{c}, finite(static_cast<std::size_t>(hop_length(c).value)), level{c},
          room{c.hop, kVoiceBandRoom}, f0{c}, hiss{c}, pulses{c}
    {
    }

    std::span<const float> finite_copy(std::span<const float> hop) noexcept
    {
        std::transform(hop.begin(), hop.end(), finite.begin(),
                       [](float x) { return std::isfinite(x) ? x : 0.0f; });
        return finite;
    }

    bool heard_as_voice(const F0Reading& reading) noexcept
    {
        const bool low = fry.fry && reading.periodic && *reading.f0 < kPairOfPulses;
        low_hops_in_fry = low ? low_hops_in_fry + 1 : 0;
        return reading.periodic && (!low || low_hops_in_fry > kHopsOfAPair);
    }

    AnalysisConfig config;
    std::vector<float> finite;
    VoiceBandLevel level;
    RoomFloor room;
    F0Estimator f0;
    FricationMeter hiss;
    FryDetector pulses;
    FricationReading frication;
    FryReading fry;
    SampleIndex next{};
    int low_hops_in_fry{0};
    bool sounding{false};
};

FrameAnalyzer::FrameAnalyzer(const AnalysisConfig& config) : chain_{std::make_unique<Chain>(config)}
{
}
FrameAnalyzer::~FrameAnalyzer() = default;
FrameAnalyzer::FrameAnalyzer(FrameAnalyzer&&) noexcept = default;
FrameAnalyzer& FrameAnalyzer::operator=(FrameAnalyzer&&) noexcept = default;

FrameReading FrameAnalyzer::push(std::span<const float> raw) noexcept
{
    Chain& c = *chain_;
    const std::span<const float> hop = c.finite_copy(raw);
    const LevelReading level = c.level.push(hop);
    const Dbfs floor = level_of(
        c.room.push(mean_square_of(level.hop), c.sounding ? Evidence::sounding : Evidence::quiet));
    const F0Reading f0 = c.f0.push(hop, level.window - floor);

    FrameReading r;
    r.centre = f0.centre;
    r.hop_begin = c.next;
    r.level = level.window;
    r.hop_level = level.hop;
    r.noise_floor = floor;
    r.quarter_power = level.quarter_power;
    r.clipped_samples = level.clipped_samples;
    c.frication = c.hiss.push(hop);
    r.hiss_level = c.frication.hiss;
    r.hiss_floor = c.frication.hiss_floor;
    r.low_level = c.frication.low;
    if (c.heard_as_voice(f0)) {
        r.phonation = Phonation::voiced;
        c.hiss.heard_voice();
    } else {
        r.phonation = aperiodic_kind(c.frication);
    }
    c.fry = c.pulses.push(hop, r.phonation);
    if (c.fry.fry) r.phonation = Phonation::fry;
    if (r.phonation == Phonation::voiced) {
        r.f0 = f0.f0;
        r.f0_error = f0.error;
        r.f0_slope = f0.slope_semitones_per_s;
        r.confidence = 1.0 - f0.residual;
    }
    c.sounding = is_voice(r.phonation);
    c.next = c.next + hop_length(c.config);
    return r;
}

void FrameAnalyzer::skip(SampleCount lost) noexcept
{
    Chain& c = *chain_;
    c.next = c.next + lost;
    c.f0.skip(lost);
    c.hiss.skip(lost);
}

const FricationReading& FrameAnalyzer::frication() const noexcept { return chain_->frication; }
const FryReading& FrameAnalyzer::fry() const noexcept { return chain_->fry; }

void FrameAnalyzer::reset() noexcept
{
    Chain& c = *chain_;
    c.level.reset();
    c.room.reset();
    c.f0.reset();
    c.hiss.reset();
    c.pulses.reset();
    c.frication = {};
    c.fry = {};
    c.low_hops_in_fry = 0;
    c.next = {};
    c.sounding = false;
}

}  // namespace holdwell
