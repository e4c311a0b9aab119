#pragma once
// One phonation after another: when a voice begins, goes on over short gaps, and ends.
//
// In:    one FrameReading a hop.
// Out:   the phonation under way, and each one that has ended, with its contour and envelope.
//        What it is (a hold, a glide, speech) is judged afterwards from these.
// Delay: a beginning is known 100 ms after it, an end after the bridge (or 0.5 s for fry and
//        fading); both are dated back to where they were.
// Rules: a gap up to `bridge` is an interruption; more ends the phonation, as does an in-breath
//        (air for 150 ms that does not die away), fry for more than 0.5 s, or a level more than
//        15 dB below the phonation's own median for more than 0.5 s. Pitch alone never ends it.

#include <optional>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/contour.h"
#include "dsp/envelope.h"
#include "dsp/frame_reading.h"
#include "dsp/hold.h"

namespace holdwell {

struct Phonated {
    SampleIndex onset{};
    SampleIndex offset{};
    HoldEnd ended_by{HoldEnd::voice_stopped};
    std::vector<ContourPoint> contour;  // first to last voiced reading, bridged gaps included
    std::vector<Interruption> interruptions;
    Seconds fry{};        // within it and, if fry ended it, after it
    Dbfs room{-120.0};    // noise floor when it began
    bool has_gap{false};  // samples were lost inside it
};

struct PhonationRule {
    Seconds bridge{300ms};
    bool ends_with_breath{true};  // in a glide the gap of a break may be full of air
};

class PhonationTimer {
public:
    PhonationTimer(const AnalysisConfig& config, const PhonationRule& rule);

    void push(const FrameReading& reading);
    void skip(SampleCount lost);
    void finish();

    struct UnderWayNow {
        SampleIndex onset;
        SampleIndex last_voiced;
        int gaps;
    };
    // Once the voice has lasted 100 ms.
    std::optional<UnderWayNow> under_way() const;
    const std::vector<ContourPoint>& contour() const { return contour_; }
    std::vector<Phonated> take_finished();

private:
    enum class State { idle, beginning, sounding, gap, spent };

    void begin(const ContourPoint& first, Dbfs room);
    void take_voiced(const FrameReading& reading);
    void take_unvoiced(const FrameReading& reading);
    void resume(const FrameReading& reading);
    void wait_for_end(const FrameReading& reading);
    bool has_faded(const FrameReading& reading);
    Dbfs median_level() const;
    void end(HoldEnd why);
    Seconds since(SampleIndex earlier, SampleIndex later) const;

    AnalysisConfig config_;
    PhonationRule rule_;
    Envelope envelope_;
    State state_{State::idle};
    std::vector<ContourPoint> contour_;
    std::size_t good_{0};  // points of the contour up to the last accepted voiced one
    SampleIndex first_voiced_{};
    SampleIndex last_good_{};
    SampleIndex onset_{};
    Dbfs room_{};
    std::size_t run_begin_{0};  // point of the contour where the latest voiced run begins
    int voiced_in_run_{0};      // hops since the voice began, or came back after a gap
    int unvoiced_in_run_{0};    // hops since the last voiced one
    int gaps_{0};
    Seconds fry_{};
    std::optional<SampleIndex> faint_since_;
    Dbfs spent_below_{};  // a voice that faded is over until it stops, or is this loud again
    std::vector<int> level_counts_;  // of voiced hops, by whole dB: for the median
    bool has_lost_{false};
    std::vector<Phonated> finished_;
};

}  // namespace holdwell
