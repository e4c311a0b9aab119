// From one screen to another, and what is listened to on each.

#include <algorithm>

#include "app/ui/routine.h"
#include "app/ui/view_model.h"

namespace holdwell {

void ViewModel::enter(Screen screen)
{
    const bool stops_listening = screen == Screen::choices || screen == Screen::help;
    if (screen == Screen::help && model_.screen == Screen::help) return leave_screen();
    if (screen == Screen::help) model_.below = model_.screen;
    if (stops_listening && model_.screen == Screen::practice) post(PauseListening{});
    if (screen == Screen::tolerance) {
        model_.tolerance = {};
        post(ArmTrial{});
    }
    // The help has paused; its numbers are of a voice that sounds.
    if (screen == Screen::details && model_.screen == Screen::help && !run_) post(ArmTrial{});
    if (screen == Screen::starts && !run_ && model_.stage != Stage::sounding) post(ArmTrial{});
    if (screen == Screen::calibration) model_.ear.level.said.clear();
    if (screen == Screen::sound_check) {
        model_.sound_check.reset();
        post(BeginSoundCheck{});
    }
    model_.screen = screen;
    model_.page = 0;
}

void ViewModel::leave_screen()
{
    const Screen left = model_.screen;
    model_.page = 0;
    switch (left) {
    case Screen::welcome:
        model_.leaving = true;
        return;
    case Screen::practice:
    case Screen::no_microphone:
        abandon_run();
        if (model_.sent_to) return return_to_page();
        model_.leaving = true;
        return;
    case Screen::page:
        return;
    case Screen::help:
        model_.screen = model_.below;
        if (model_.screen == Screen::practice && !run_) post(ArmTrial{});
        return;
    case Screen::details:
        model_.screen = Screen::practice;
        return;
    case Screen::starts:
        keep_starts();
        model_.screen = Screen::details;
        return;
    case Screen::calibration:
        model_.screen = Screen::details;
        return;
    case Screen::sound_check:
    case Screen::tolerance:
        if (model_.sent_to == left) return return_to_page();
        model_.screen = Screen::practice;
        begin_drill();
        return;
    case Screen::choices:
        model_.screen = Screen::practice;
        begin_drill();
        return;
    }
}

void ViewModel::proceed()
{
    switch (model_.screen) {
    case Screen::welcome:
        model_.preferences.cautions = Cautions::read;
        if (model_.options.opens_on == OpensOn::page) return return_to_page();
        if (model_.options.source == SoundSource::recording) return play_demo();
        return enter(model_.capture.state == CaptureState::no_device ? Screen::no_microphone
                                                                     : Screen::sound_check);
    case Screen::no_microphone:
        return model_.options.demos.empty() ? post(ReopenMicrophone{}) : play_demo();
    case Screen::practice:
        if (model_.capture.state == CaptureState::recording_ended) return play_next_demo();
        return post(ArmTrial{});
    case Screen::sound_check:
    case Screen::choices:
    case Screen::details:
    case Screen::tolerance:
    case Screen::starts:
    case Screen::help:
        return leave_screen();
    case Screen::calibration:
        return keep_level();
    case Screen::page:
        return;
    }
}

void ViewModel::pause_or_resume()
{
    if (model_.stage == Stage::paused) return post(ArmTrial{});
    model_.rest_since.reset();
    post(PauseListening{});
}

void ViewModel::begin_drill()
{
    model_.trials_done = 0;
    model_.last.reset();
    model_.discarded.reset();
    model_.hold = {};
    model_.glide = {};
    model_.previous_glide = {};
    post(BeginDrill{model_.drill});
    if (model_.options.cue == CueAtStart::play && has_target(model_.drill.kind) &&
        !model_.capture.playing_demo) {
        post(HearNote{});
    }
}

void ViewModel::go_to_next_drill()
{
    model_.drill = drill_after(model_.drill);
    begin_drill();
}

void ViewModel::play_demo()
{
    if (model_.options.demos.empty()) return;
    const Demo& demo = model_.options.demos[model_.capture.demo];
    model_.capture.playing_demo = true;
    model_.drill = demo.drill;
    model_.screen = Screen::practice;
    begin_drill();
    post(PlayRecording{demo.path});
}

void ViewModel::play_next_demo()
{
    if (model_.options.demos.empty()) return;
    model_.capture.demo = (model_.capture.demo + 1) % model_.options.demos.size();
    play_demo();
}

}  // namespace holdwell
