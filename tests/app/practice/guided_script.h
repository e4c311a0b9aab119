#pragma once
// A practice told to a guide step by step, and what the guide wishes, kept in order.

#include <optional>
#include <utility>
#include <vector>

#include "app/practice/guide.h"

namespace holdwell::test {

// A hold of that length; a glide or a hiss where the drill asks for one.
inline Measures measures_for(const Drill& drill, Seconds length)
{
    switch (drill.kind) {
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold: {
        HoldMeasures hold;
        hold.hold_time = length;
        return hold;
    }
    case DrillKind::rising_glide:
    case DrillKind::falling_glide: {
        GlideMeasures glide;
        glide.length = length;
        return glide;
    }
    case DrillKind::s_hold:
    case DrillKind::z_hold:
        break;
    }
    SibilantMeasures sibilant;
    sibilant.length = length;
    return sibilant;
}

class GuidedScript {
public:
    explicit GuidedScript(GuideSetup setup) : guide{std::move(setup)} { look(); }

    void tell(const GuideEvent& event)
    {
        if (std::holds_alternative<TrialStored>(event) && unanswered > 0) --unanswered;
        guide.apply(event);
        look();
    }
    void wait(Seconds time)
    {
        constexpr Seconds kStep{0.1};
        for (Seconds t{}; t < time; t += kStep) tell(StreamAdvanced{kStep});
    }
    void sing(Seconds length = Seconds{8.0})
    {
        const Drill drill = listened_for.value();
        tell(VoiceBegan{});
        wait(length);
        tell(TrialHeard{drill, measures_for(drill, length)});
    }
    // Through posture and sound check, to the first trial.
    void settle()
    {
        tell(GuideKey::go_on);
        tell(CheckDone{SoundCheckSummary{}, ""});
        tell(ListeningBegan{});
    }
    // Sings what is asked for and waits out the rests, until the questions are due.
    void sing_all()
    {
        for (int i = 0; i < 500 && guide.phase() != GuidePhase::rating; ++i) {
            if (guide.phase() == GuidePhase::cue) tell(ListeningBegan{});
            if (guide.phase() == GuidePhase::listening) {
                sing();
                tell(TrialStored{});
            }
            wait(Seconds{1.0});
        }
    }

    Guide guide;
    std::vector<Trial> stored;          // asked to be
    std::vector<Drill> begun;           // in order
    std::optional<Drill> listened_for;  // as the engine would
    int unanswered{0};                  // stored, not yet said to be durable
    int begun_too_soon{0};              // trials begun while another was not yet durable
    int checks{0};
    int ratings_asked{0};

private:
    void look()
    {
        for (const GuideWish& wish : guide.take_wishes()) {
            if (const auto* begin = std::get_if<BeginTrial>(&wish)) {
                begun.push_back(begin->drill);
                listened_for = begin->drill;
                if (unanswered > 0) ++begun_too_soon;
            } else if (const auto* store = std::get_if<StoreTrial>(&wish)) {
                stored.push_back(store->trial);
                ++unanswered;
            } else if (std::holds_alternative<StopListening>(wish)) {
                listened_for.reset();
            } else if (std::holds_alternative<CheckSoundNow>(wish)) {
                ++checks;
            } else {
                ++ratings_asked;
            }
        }
    }
};

// One warm-up, one glide, two notes of the ladder, each twice: eight trials.
inline Plan small_plan()
{
    Plan plan;
    plan.voice.ladder = {Note{60}, Note{62}};
    plan.drills = {
        {DrillKind::warm_up_hold, 2}, {DrillKind::rising_glide, 2}, {DrillKind::ladder_hold, 2}};
    plan.rest = Seconds{20.0};
    return plan;
}

inline GuidedScript small_practice(std::vector<Trial> already = {})
{
    return GuidedScript{guide_setup_of(small_plan(), std::move(already))};
}

}  // namespace holdwell::test
