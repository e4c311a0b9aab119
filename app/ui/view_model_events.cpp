// What the person does: the other half of the view model.

#include <algorithm>
#include <array>
#include <cmath>

#include "app/ui/routine.h"
#include "app/ui/view_model.h"

namespace holdwell {
namespace {

constexpr Cents kBandStep{10.0};

Cents clamped_band(double cents)
{
    return {std::clamp(cents, kNarrowestBand.value, kWidestBand.value)};
}

// None, 1, 2, ... 120 s; from none upwards the first step is a goal that many could be given.
std::optional<Seconds> stepped(std::optional<Seconds> goal, int by)
{
    constexpr Seconds kFirst{10.0};
    if (!goal) return by > 0 ? std::optional{kFirst} : std::nullopt;
    const Seconds next = std::min(*goal + Seconds{static_cast<double>(by)}, kLongestGoal);
    return next < Seconds{1.0} ? std::nullopt : std::optional{next};
}

template <typename Value>
Value stepped_among(const std::vector<Value>& values, Value value, int by)
{
    if (values.empty()) return value;
    const auto count = static_cast<int>(values.size());
    const auto here = static_cast<int>(std::ranges::find(values, value) - values.begin());
    return values[static_cast<std::size_t>((here % count + by + count) % count)];
}

}  // namespace

void ViewModel::apply(const Event& event)
{
    std::visit([this](const auto& e) { act(e); }, event);
}

void ViewModel::act(Action action)
{
    if (steers_run(action)) return;
    switch (action) {
    case Action::proceed:
        return proceed();
    case Action::pause_or_resume:
        return pause_or_resume();
    case Action::hear:
        return post(HearNote{});
    case Action::next_drill:
        return go_to_next_drill();
    case Action::back:
        return leave_screen();
    case Action::open_help:
        return enter(Screen::help);
    case Action::open_choices:
        return enter(Screen::choices);
    case Action::open_details:
        return enter(Screen::details);
    case Action::open_tolerance:
        return enter(Screen::tolerance);
    case Action::open_sound_check:
        return enter(Screen::sound_check);
    case Action::check_again:
        return enter(Screen::sound_check);
    case Action::open_starts:
        return enter(Screen::starts);
    case Action::name_easy:
        return name_start(OnsetClass::easy);
    case Action::name_hard:
        return name_start(OnsetClass::hard);
    case Action::name_breathy:
        return name_start(OnsetClass::breathy);
    case Action::take_back:
        return model_.screen == Screen::calibration ? forget_level() : take_name_back();
    case Action::open_calibration:
        return enter(Screen::calibration);
    case Action::play_demo:
        return play_demo();
    case Action::reopen_microphone:
        return post(ReopenMicrophone{});
    case Action::hear_high_edge:
        return post(HearTone{transposed(frequency_of(model_.drill.target), model_.drill.band)});
    case Action::hear_low_edge:
        return post(HearTone{transposed(frequency_of(model_.drill.target), -model_.drill.band)});
    case Action::widen_band:
        return set_band(clamped_band(model_.drill.band.value + kBandStep.value));
    case Action::narrow_band:
        return set_band(clamped_band(model_.drill.band.value - kBandStep.value));
    case Action::larger_text:
        return scale_text(model_.preferences.text_percent + kTextStep);
    case Action::smaller_text:
        return scale_text(model_.preferences.text_percent - kTextStep);
    case Action::up:
        return move_focus(-1);
    case Action::down:
        return move_focus(+1);
    case Action::left:
        return step_value(-1);
    case Action::right:
        return step_value(+1);
    case Action::page_up:
        model_.page = std::max(0, model_.page - 1);
        return;
    case Action::page_down:
        model_.page = std::min(99, model_.page + 1);
        return;
    }
}

void ViewModel::act(const PickRow& pick)
{
    if (model_.screen == Screen::choices) {
        model_.focused_choice = std::clamp(pick.row, 0, kChoices - 1);
        return;
    }
    if (model_.screen == Screen::calibration) return step_level(pick.row, 0);
    const auto row = static_cast<std::size_t>(pick.row);
    if (pick.row < 0 || row >= model_.microphones.names.size()) return;
    model_.microphones.focused = pick.row;
    step_value(0);
}

void ViewModel::act(const StepRow& step)
{
    if (model_.screen == Screen::calibration) return step_level(step.row, step.by);
    model_.focused_choice = std::clamp(step.row, 0, kChoices - 1);
    step_value(step.by);
}

void ViewModel::act(const PickNote& pick)
{
    model_.focused_choice = static_cast<int>(Choice::note);
    choose_note(pick.note);
    model_.drill.kind = pick.kind;
}

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
        return model_.options.demo_path.empty() ? post(ReopenMicrophone{}) : play_demo();
    case Screen::practice:
        if (model_.capture.state == CaptureState::recording_ended) return play_demo();
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
    if (model_.options.demo_path.empty()) return;
    model_.capture.playing_demo = true;
    model_.drill = model_.options.demo_drill;
    model_.screen = Screen::practice;
    begin_drill();
    post(PlayRecording{model_.options.demo_path});
}

void ViewModel::move_focus(int by)
{
    if (model_.screen == Screen::choices) {
        model_.focused_choice = (model_.focused_choice + by + kChoices) % kChoices;
    } else if (model_.screen == Screen::sound_check && !model_.microphones.names.empty()) {
        const auto count = static_cast<int>(model_.microphones.names.size());
        model_.microphones.focused = std::clamp(model_.microphones.focused + by, 0, count - 1);
        step_value(0);
    } else if (model_.screen == Screen::calibration) {
        step_level((model_.ear.level.focused + by + kLevelRows) % kLevelRows, 0);
    } else {
        turn_page(by);
    }
}

void ViewModel::turn_page(int by)
{
    if (model_.screen == Screen::choices) return move_focus(by);  // what is in focus is in sight
    constexpr int kMost = 99;
    model_.page = std::clamp(model_.page + by, 0, kMost);
}

void ViewModel::step_value(int by)
{
    if (model_.screen == Screen::sound_check && !model_.microphones.names.empty() && by == 0) {
        const auto row = static_cast<std::size_t>(model_.microphones.focused);
        const std::string& name = model_.microphones.names[row];
        if (name == model_.microphones.chosen) return;
        model_.microphones.chosen = name;
        post(ChooseMicrophone{name});
        return enter(Screen::sound_check);
    }
    if (model_.screen == Screen::calibration) return step_level(model_.ear.level.focused, by);
    if (model_.screen != Screen::choices) return;
    Preferences& p = model_.preferences;
    switch (static_cast<Choice>(model_.focused_choice)) {
    case Choice::drill:
        model_.drill.kind = stepped_among(model_.options.drills, model_.drill.kind, by);
        return;
    case Choice::note:
        return choose_note(Note{model_.drill.target.midi + by});
    case Choice::band:
        return set_band(clamped_band(model_.drill.band.value + by * kBandStep.value));
    case Choice::goal:
        p.goal = model_.drill.goal = stepped(model_.drill.goal, by);
        return;
    case Choice::pitch_line:
        p.pitch_line = p.pitch_line == PitchLine::shown ? PitchLine::hidden : PitchLine::shown;
        return;
    case Choice::theme:
        p.theme = stepped_among({Theme::automatic, Theme::light, Theme::dark}, p.theme, by);
        return;
    case Choice::text_size:
        return scale_text(p.text_percent + by * kTextStep);
    }
}

void ViewModel::choose_note(Note note)
{
    note.midi = std::clamp(note.midi, kLowestTarget.midi, kHighestTarget.midi);
    model_.drill.target = note;
    model_.drill.kind = usual_kind_of(note);
    model_.preferences.target = note;
}

void ViewModel::set_band(Cents band)
{
    model_.drill.band = band;
    model_.preferences.band = band;
}

void ViewModel::scale_text(int percent)
{
    model_.preferences.text_percent = std::clamp(percent, kSmallestText, kLargestText);
}

}  // namespace holdwell
