// What the person does: which key or click leads to what.

#include <algorithm>

#include "app/ui/view_model.h"

namespace holdwell {
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
        return set_band({model_.drill.band.value + kBandStep.value});
    case Action::narrow_band:
        return set_band({model_.drill.band.value - kBandStep.value});
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
        return turn_page(-1);
    case Action::page_down:
        return turn_page(+1);
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
    const bool is_page = model_.screen == Screen::page;
    model_.page = std::clamp((is_page ? model_.seen.page : model_.page) + by, 0, kMost);
    if (is_page) model_.turned = Model::Turned::just_now;
}

}  // namespace holdwell
