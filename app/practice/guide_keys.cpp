// What the keys do, phase by phase.

#include "app/practice/guide.h"

namespace holdwell {

void Guide::hear(GuideKey key)
{
    switch (key) {
    case GuideKey::go_on:
        return on_go_on();
    case GuideKey::pause:
        return on_pause();
    case GuideKey::skip:
        return on_skip();
    case GuideKey::stop:
        return on_stop();
    case GuideKey::hurts:
        return on_hurts();
    }
}

void Guide::on_go_on()
{
    switch (phase_) {
    case GuidePhase::posture:
        return begin_check();
    case GuidePhase::sound_check:
    case GuidePhase::cue:
    case GuidePhase::listening:
    case GuidePhase::sounding:
        note_breath();
        return begin_trial();
    case GuidePhase::resting:
        if (set_aside_) return keep_what_was_set_aside();
        // Once more, but not before the rest is over.
        if (!last_ || repeats_) return;
        repeats_ = true;
        at_ = *last_;
        rest_ = setup_.trials[at_].is_maximal ? setup_.rest : kShortRest;
        return;
    case GuidePhase::paused:
    case GuidePhase::asks_to_stop:
        return come_back();
    case GuidePhase::no_microphone:
    case GuidePhase::rating:
    case GuidePhase::over:
        return;
    }
}

void Guide::on_pause()
{
    if (phase_ == GuidePhase::paused || phase_ == GuidePhase::asks_to_stop) return come_back();
    if (phase_ == GuidePhase::rating || phase_ == GuidePhase::no_microphone) return;
    pause(PauseReason::asked_for);
}

void Guide::on_skip()
{
    if (phase_ == GuidePhase::posture) return begin_check();
    if (phase_ == GuidePhase::sound_check) return begin_trial();
    if (phase_ == GuidePhase::resting && current() != nullptr) {
        repeats_ = false;
        set_aside_.reset();
        at_ = at_ + 1;
        return;
    }
    if (!is_judging(phase_)) return;
    note_breath();
    repeats_ = false;
    at_ = at_ + 1;
    if (current() != nullptr) return begin_trial();
    wishes_.emplace_back(StopListening{});
    begin_rest(kShortRest);
}

void Guide::on_stop()
{
    if (phase_ == GuidePhase::asks_to_stop) return finish(Completion::partial);
    if (phase_ == GuidePhase::rating) return;
    step_aside(GuidePhase::asks_to_stop);
}

void Guide::on_hurts()
{
    if (phase_ == GuidePhase::asks_to_stop) finish(Completion::stopped_for_discomfort);
}

}  // namespace holdwell
