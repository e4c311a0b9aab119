// What the guide says, phase by phase.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/practice/drill_words.h"
#include "app/practice/guide.h"

namespace holdwell {
namespace {

struct Keys {
    const char* enter;
    const char* space;
    const char* next;
    const char* escape;
    const char* hurts;
};

Keys keys_in(GuidePhase phase)
{
    switch (phase) {
    case GuidePhase::posture:
        return {"begin now", "pause", "", "stop early", ""};
    case GuidePhase::sound_check:
        return {"leave it out", "pause", "", "stop early", ""};
    case GuidePhase::cue:
    case GuidePhase::listening:
    case GuidePhase::sounding:
        return {"begin it again", "pause", "skip this one", "stop early", ""};
    case GuidePhase::resting:
        return {"do it once more", "pause", "skip the next", "stop early", ""};
    case GuidePhase::paused:
        return {"go on", "go on", "", "stop early", ""};
    case GuidePhase::asks_to_stop:
        return {"go on", "", "", "stop here", "stop, something hurts"};
    case GuidePhase::no_microphone:
        return {"", "", "", "stop early", ""};
    case GuidePhase::rating:
    case GuidePhase::over:
        break;
    }
    return {"", "", "", "", ""};
}

// "E4", or "rising glide"; /s/ and /z/ stay as they are.
std::string short_name_of(const Drill& drill)
{
    if (has_target(drill.kind)) return name_of(drill.target, Spelling::display);
    std::string name = name_of(drill.kind);
    if (name[0] >= 'A' && name[0] <= 'Z') name[0] = static_cast<char>(name[0] - 'A' + 'a');
    return name;
}

std::string whole_seconds(Seconds s)
{
    return fmt::format("{:.0f} s", std::max(1.0, std::ceil(s.count())));
}

}  // namespace

std::string Guide::second_when_resting() const
{
    const PlannedTrial* coming = current();
    const Seconds left = rest_ - waited_;
    if (coming == nullptr) return "That was the last one.";
    if (left <= Seconds{} && unstored_ > 0) return "Keeping what you did\u2026";
    const std::string in = whole_seconds(left);
    const std::string name = short_name_of(coming->drill);
    if (set_aside_) return fmt::format("Else it is asked for again in {}.", in);
    if (repeats_) return fmt::format("Once more: {} in {}.", name, in);
    return fmt::format("Rest and breathe. Next: {} in {}.", name, in);
}

GuideView Guide::view() const
{
    GuideView view;
    view.phase = phase_;
    view.asked = trials_asked();
    view.place = static_cast<int>(std::min(at_ + 1, setup_.trials.size()));
    view.headline = fmt::format("{} of {}", view.place, view.asked);
    view.notice = advice_;
    if (const PlannedTrial* shown = current()) {
        view.repetition = shown->repetition;
        view.repetitions = shown->repetitions;
    }
    const Keys keys = keys_in(phase_);
    view.enter = keys.enter;
    view.space = keys.space;
    view.next = keys.next;
    view.escape = keys.escape;
    view.hurts = keys.hurts;
    say_in_phase(view);
    return view;
}

void Guide::say_in_phase(GuideView& view) const
{
    switch (phase_) {
    case GuidePhase::posture:
        if (setup_.opening == GuideSetup::Opening::at_once) return;
        view.line = "Sit or stand tall, shoulders loose. Breathe in low and slow.";
        view.waits = std::max(Seconds{}, kPostureTime - waited_);
        view.second = fmt::format("{} in {}.", went_on_ ? "We go on where you were" : "We begin",
                                  whole_seconds(*view.waits));
        return;
    case GuidePhase::sound_check:
        view.line = check_part_ == CheckPart::room ? "Stay quiet for a moment."
                                                   : "Now sing any comfortable note.";
        view.second = check_part_ == CheckPart::room ? "The room is being measured."
                                                     : "Softly, for a few seconds.";
        return;
    case GuidePhase::resting:
        view.line = refusal_;
        if (set_aside_) {
            view.line = "This sounds like a machine, not like a voice, so it is not counted. "
                        "If it was you, Enter keeps it.";
            view.enter = "it was me: keep it";
            view.next = "skip this one";
        }
        view.second = second_when_resting();
        view.waits = std::max(Seconds{}, rest_ - waited_);
        return;
    case GuidePhase::paused:
        return say_when_paused(view);
    case GuidePhase::asks_to_stop:
        view.line = "Stop here for today?";
        view.second = kept_ == 0 ? "You can come back at any time." : "What you have done is kept.";
        return;
    case GuidePhase::no_microphone:
        view.line = "The microphone is gone. Waiting for it to come back.";
        view.second = "Plug it in again; we go on by ourselves.";
        return;
    case GuidePhase::rating:
        view.line = "Two short questions, then you are done.";
        return;
    case GuidePhase::cue:
    case GuidePhase::listening:
    case GuidePhase::sounding:
    case GuidePhase::over:
        return;
    }
}

void Guide::say_when_paused(GuideView& view) const
{
    view.second = "Space goes on where you were.";
    switch (reason_) {
    case PauseReason::asked_for:
        view.line = "Paused. Take your time.";
        return;
    case PauseReason::silence:
        view.line = "Nothing was heard for a while, so the practice is paused.";
        return;
    case PauseReason::short_sounds:
        view.line = "It sounds as if somebody is talking, so the practice is paused.";
        return;
    }
}

}  // namespace holdwell
