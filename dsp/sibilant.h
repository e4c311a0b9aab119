#pragma once
// Times one continuous /s/ (without voice) and one continuous /z/ (hiss with voice).
//
// In:    one FricationReading a hop, in order, and whether the same hop held a pitch.
// Out:   finished /s/ and /z/ holds; what is under way. An /s/ that turns into a /z/ is both, one
//        after the other.
// Delay: an /s/ is known 60 ms after it begins, its end `bridge` after it ends; both edges are set
//        back to where they were, to a quarter of a hop (dsp/hiss_edges.h).
// State: a fixed size; push allocates nothing.

#include <optional>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/frication.h"
#include "dsp/hiss_course.h"
#include "dsp/hiss_edges.h"
#include "dsp/hold.h"

namespace holdwell {

enum class Pitch { absent, present };

// All chosen by us, on generated /s/ and /z/ of 10 to 40 dB over white, pink and rumbling rooms
// (tests/dsp/sibilant_test.cpp).
struct SibilantConfig {
    Seconds bridge{200ms};    // 0 .. 500 ms; a dip no longer than this does not end the hold
    Seconds shortest{200ms};  // anything shorter is left out
    Seconds confirm{60ms};    // so long before a beginning is believed
    FricationRule enter{};
    Decibels leave_over_room{3.5};
    BrightnessRule leave_bright{{4.0}, {{-2.0}, {8.0}}};
    Decibels leave_below_own{20.0};  // so far below its own recent level it has ended
    // While its hiss stays so near to its own recent level it goes on, whatever sounds below 3 kHz
    // (somebody speaks, a chair creaks).
    Decibels steady_within{5.0};
    // Speech, cymbals and bells also hiss for seconds, in bursts. Of an /s/ nearly every hop is
    // good, and its level hardly differs from hop to hop: 0.5 to 0.8 dB, as noise does.
    double least_share_good{0.8};
    Decibels most_unrest{2.0};  // mean difference of neighbouring hops
    // Of /z/. A vowel's 4 .. 11 kHz lie 20 dB and more below its 0.3 .. 3 kHz; those of /z/ are
    // about level with it.
    Decibels z_over_low{-12.0};
    Decibels z_leave_over_low{-16.0};
};

struct SibilantUnderWay {
    SampleIndex onset{};
    Seconds so_far{};  // onset to the end of the last sounding hop
    Pitch pitch{Pitch::absent};
};

// In order of onset, each.
struct SibilantsHeard {
    std::vector<Sibilant> s_holds;
    std::vector<Sibilant> z_holds;
};

// What to tell a client whose /s/ faded by itself.
inline constexpr const char* kFadingSentence =
    "The sound faded away smoothly soon after it began. The computer may be treating it as "
    "background noise: turn off noise suppression for this microphone, then try once more.";

// One continuous sound of one kind.
class SibilantTrack {
public:
    SibilantTrack(const AnalysisConfig& analysis, const SibilantConfig& config);

    // Does this hop belong to the sound? other_below: only if its hiss stays as it was.
    enum class Shape { wrong, other_below, may_go_on, may_begin };
    // `edges` already holds the hop. Gives the sound when this hop shows that it is over.
    std::optional<Sibilant> push(const FricationReading& reading, Shape shape,
                                 const HissEdges& edges) noexcept;
    // Nothing follows the last hop pushed.
    std::optional<Sibilant> finish(const HissEdges& edges) noexcept;
    // Under way, and steady so far.
    bool is_sounding() const noexcept { return sounding_ && is_steady(); }
    SibilantUnderWay under_way() const noexcept;

private:
    void look_for_beginning(const FricationReading& reading, Shape shape) noexcept;
    bool goes_on(const FricationReading& reading, Shape shape) const noexcept;
    bool is_steady() const noexcept;
    void take_level(const FricationReading& reading) noexcept;
    void place_onset(const HissEdges& edges) noexcept;
    std::optional<Sibilant> end(const HissEdges& edges) noexcept;
    // Slices count from the first hop pushed; samples lost on the way shift them.
    SampleIndex sample_at(double slice) const noexcept;

    SibilantConfig config_;
    SampleRate rate_;
    double hop_samples_;
    std::int64_t bridge_, shortest_, confirm_, settle_;  // hops
    double own_pace_;  // share of the way to a new level gone in one hop

    bool sounding_{false};
    bool onset_placed_{false};
    std::int64_t hop_{-1};  // newest
    SampleIndex hop_begin_{};
    std::int64_t candidate_hops_{0};
    std::int64_t first_good_{0}, last_good_{0}, last_wrong_{-1};  // hops
    std::int64_t onset_reach_{0};
    Dbfs room_{kDigitalSilence};  // when it began
    Dbfs own_{kDigitalSilence};   // its own recent level
    SampleIndex onset_{};
    double power_sum_{0.0};  // over good hops
    std::int64_t power_hops_{0};
    double unrest_sum_{0.0};  // dB
    Dbfs last_hiss_{};
    HissCourse course_;
};

class SibilantTimer {
public:
    explicit SibilantTimer(const AnalysisConfig& analysis, const SibilantConfig& config = {});

    // One call a hop. [any]
    void push(const FricationReading& reading, Pitch pitch) noexcept;
    // The stream is over, or samples were lost here: what is under way ends. [any]
    void finish() noexcept;
    // The /s/ when both sound: it is not known yet that it has turned into a /z/.
    std::optional<SibilantUnderWay> under_way() const noexcept;
    // What ended since the last call. At most 64 of each are kept.
    SibilantsHeard take_finished();

private:
    SibilantConfig config_;
    HissEdges edges_;
    SibilantTrack s_, z_;
    SibilantsHeard finished_;
};

}  // namespace holdwell
