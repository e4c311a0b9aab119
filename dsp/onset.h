#pragma once
// How a hold begins: measured features, and the one rule that names it easy, hard, breathy or
// unsure.
//
// In:    every hop of samples with its FrameReading; then, once it is known that a hold began and
//        `kSettle` has passed since, the sample at which it began (+-100 ms).
// Out:   an Onset: features, name, and the reason in one sentence.
// State: dsp/onset_history.h.
//
// The features, over -1 s .. +400 ms about the beginning:
//   rise      10 to 90 % of the RMS envelope, over one period of the voice (5 ms at least),
//   reckoned
//             from its 10 to 80 %: the last tenth is lost in the unevenness of any voice. What the
//             window adds to an abrupt step is taken off: 1.16 sqrt(max(0, seen^2 - smear^2))
//   air       how long before the voice, without a pause, something without pitch is 6 dB over the
//             room in 1 .. 4 kHz or above 4 kHz; until 50 ms before a pitch is found, or for as
//             long as it is 4 dB brighter there than the voice that follows
//   overshoot the loudest of the first 30 ms over the level 100 ms later
//   irregular f0 in the first 80 ms is more than 1.5 semitones from where it then settles
// That these features order hard, easy and breathy beginnings: Y. Koike, M. Hirano and H. von
// Leden, Folia Phoniatr. 19, 173-182, 1967; H. F. M. Peters, L. Boves and I. van Dielen, J. Speech
// Hear. Disord. 51, 299-308, 1986 (both from memory). The thresholds in milliseconds are ours: the
// literature does not give any. So the name is a hint, and a therapist's labels move the
// thresholds (dsp/onset_baseline.h).

#include <optional>
#include <string>

#include "dsp/hold.h"
#include "dsp/onset_history.h"

namespace holdwell {

// What the name depends on. A rise or an air lead between the two thresholds is unsure.
struct OnsetThresholds {
    Seconds hard_rise{13ms};             // at most: hard
    Seconds hard_rise_with_click{18ms};  // at most, with overshoot or irregular first cycles: hard
    Seconds easy_rise{20ms};             // at least: easy
    Seconds no_air{30ms};                // less air than this is none
    Seconds breathy_air{50ms};           // at least: breathy
    Decibels air_over_room{6.0};
    Decibels air_below_voice{40.0};  // fainter than that, beside the settled voice, it is not heard
    Decibels click{3.0};             // overshoot
    // 10 % of the envelope lies 20 dB below the top; 2 dB for the error of the room's level.
    Decibels least_snr{22.0};
};

// The rule. "Less than 22 dB over the room: unsure. Air for 50 ms or longer: breathy. Full level
// within 13 ms, or within 18 ms with a click or irregular first cycles: hard. A rise of 20 ms or
// longer and no air: easy. Anything between: unsure."
OnsetClass class_of(const OnsetFeatures& features, const OnsetThresholds& thresholds = {});
// "full level in 7 ms, with a click: a hard start"
std::string reason_for(const OnsetFeatures& features, const OnsetThresholds& thresholds = {});

class OnsetMeter {
public:
    // So long after a beginning it can be measured.
    static constexpr Seconds kSettle{350ms};

    explicit OnsetMeter(const AnalysisConfig& config, const OnsetThresholds& thresholds = {});

    // [any]
    void push(std::span<const float> hop, const FrameReading& reading) noexcept;
    void skip(SampleCount lost) noexcept { history_.skip(lost); }
    // Also with other thresholds from now on: a personal baseline.
    void use(const OnsetThresholds& thresholds) noexcept { thresholds_ = thresholds; }

    // A hold began at `onset`, at least 250 ms ago; kSettle is better, 600 ms the most.
    Onset measure(SampleIndex onset) const;
    // Nothing when the stream began, or samples were lost, less than 200 ms before.
    std::optional<OnsetFeatures> features(SampleIndex onset) const;

private:
    using Band = OnsetHistory::Band;
    // Everything about one beginning that the features are computed from; powers in mean square.
    struct Beginning {
        std::int64_t onset;  // steps
        std::int64_t end;    // the last step looked at
        double width;        // steps: of the envelope's window
        double period;       // steps; 0 when not voiced
        struct Level {
            double room;
            double settled;
        } voice, fundamental, breath, hiss;
        std::optional<double> first_pitch;  // step about which a pitch was first found
    };
    struct Air {
        Seconds lead{};
        std::optional<Decibels> level{};
        double power_in_voice_band{0.0};
    };
    Beginning look_at(std::int64_t onset) const;
    Beginning::Level level_in(Band band, std::int64_t onset, std::int64_t end) const;
    std::optional<double> first_pitch(std::int64_t end) const;
    enum class Heard { room, air_or_voice, air };
    Heard heard_at(const Beginning& b, std::int64_t step) const;
    double period_after(std::int64_t onset) const;
    bool starts_irregularly(const Beginning& b, double from) const;
    double share_of_settled(const Beginning& b, Band band, std::int64_t step) const;
    double voice_start(const Beginning& b) const;
    Air air_before(const Beginning& b, double start) const;
    Seconds rise_of(const Beginning& b, const Air& air, double start) const;
    Decibels overshoot_of(const Beginning& b, double start) const;

    OnsetHistory history_;
    OnsetThresholds thresholds_;
};

}  // namespace holdwell
