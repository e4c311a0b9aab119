// What is chosen in the window: a drill, its note, band and goal, a microphone, and how it looks.

#include <algorithm>
#include <vector>

#include "app/ui/routine.h"
#include "app/ui/view_model.h"

namespace holdwell {
namespace {

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
        return set_band({model_.drill.band.value + by * kBandStep.value});
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
    band.value = std::clamp(band.value, kNarrowestBand.value, kWidestBand.value);
    model_.drill.band = band;
    model_.preferences.band = band;
}

void ViewModel::scale_text(int percent)
{
    model_.preferences.text_percent = std::clamp(percent, kSmallestText, kLargestText);
}

}  // namespace holdwell
