// The smaller screens: sound check, choices, no microphone, tolerance.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/ui/present.h"
#include "app/ui/routine.h"

namespace holdwell {
namespace {

constexpr Decibels kAmple{20.0};  // voice over the room; below, starts cannot be named

struct Told {
    std::string line;
    std::string detail;
};

Told told_of_check(const Model& model)
{
    if (model.capture.state == CaptureState::no_device) {
        return {"No microphone was found.", "Plug one in; it is noticed by itself."};
    }
    if (model.sound_check) {
        const SoundCheckFinished& check = *model.sound_check;
        if (check.clipped_samples > 0) {
            return {"A little too loud for the microphone.",
                    "Move back a hand's width, or turn its input level down, and check again."};
        }
        if (check.room == RoomVerdict::noisy || check.snr < kAmple) {
            return {"The room is loud beside your voice.",
                    "Close the window, switch the fan off, or sit nearer to the microphone."};
        }
        return {"All is well.", "Stay about this far from the microphone."};
    }
    switch (model.stage) {
    case Stage::checking_room:
        return {"Stay quiet for a moment.", "The room is being measured."};
    case Stage::checking_voice:
        return {"Now sing any comfortable note.", "Softly, for a few seconds."};
    default:
        return {"Getting ready\u2026", ""};
    }
}

std::vector<std::string> findings_of(const Model& model)
{
    if (!model.sound_check) return {};
    const SoundCheckFinished& check = *model.sound_check;
    std::vector<std::string> found;
    std::string room = room_words(check.room);
    if (!room.empty()) room[0] = 'R';
    found.push_back(fmt::format("{}, at {} dBFS.", room, signed_whole(check.noise_floor.value)));
    found.push_back(fmt::format("Voice {:.0f} dB above it.", check.snr.value));
    found.push_back(check.clipped_samples > 0
                        ? fmt::format("{} samples too loud.", check.clipped_samples)
                        : std::string{"Nothing too loud."});
    // No microphone is so quiet: its own noise is about 30 dB over this.
    constexpr Dbfs kCutOff{-90.0};
    if (check.noise_floor <= kCutOff) {
        found.push_back("Between sounds there is no sound at all: the computer seems to cut off "
                        "what is quiet.");
    }
    if (!model.ear.set_up_change.empty()) found.push_back(model.ear.set_up_change);
    if (model.ear.processing) found.push_back(processing_words(*model.ear.processing));
    return found;
}

std::vector<NoteChip> chips_of(std::span<const Note> notes, DrillKind kind, const Drill& chosen)
{
    std::vector<NoteChip> chips;
    for (const Note note : notes) {
        const bool is_chosen = note == chosen.target && kind == chosen.kind;
        chips.push_back({{note, kind}, name_of(note, Spelling::display), is_chosen});
    }
    return chips;
}

std::string theme_words(Theme theme)
{
    switch (theme) {
    case Theme::light:
        return "light";
    case Theme::dark:
        return "dark";
    case Theme::automatic:
        break;
    }
    return "as the desktop";
}

std::vector<ChoiceRow> rows_of(const Model& model)
{
    const Drill& d = model.drill;
    const Preferences& p = model.preferences;
    const bool shown = p.pitch_line == PitchLine::shown;
    return {
        {"Drill", name_of(d.kind), "what is practised"},
        {"Note", has_target(d.kind) ? name_of(d.target, Spelling::display) : "none",
         "any note from C2 to C6"},
        {"Near enough", fmt::format("\u00b1 {:.0f} cents", d.band.value),
         "100 cents are one semitone, from one key to the next"},
        {"Goal", d.goal ? seconds_in_words(*d.goal) : "none",
         "the hold time your therapist gave you"},
        {"Pitch line", shown ? "shown" : "hidden while holding",
         shown ? "the ink shows how near you are" : "only the time shows until you have ended"},
        {"Colours", theme_words(p.theme), "light, dark, or as the desktop"},
        {"Words", fmt::format("{} %", p.text_percent), "how large they are: 100 to 250 %"},
    };
}

std::string band_meaning(Cents band)
{
    if (band.value == 100.0) return "one semitone to each side";
    if (band.value == 200.0) return "two semitones to each side";
    if (band.value == 50.0) return "half a semitone to each side";
    return fmt::format("{:.1f} semitones to each side", band.value / 100.0);
}

std::string lie_words(std::optional<double> cents, double band)
{
    if (!cents) return "Sing, and widen or narrow the band.";
    if (std::abs(*cents) <= band) return "Near enough.";
    return *cents > 0.0 ? "Above the band." : "Below the band.";
}

}  // namespace

SoundCheckView present_sound_check(const Model& model)
{
    const Told told = told_of_check(model);
    SoundCheckView view;
    view.title = "Sound check";
    view.line = told.line;
    view.detail = told.detail;
    view.meter = {model.meter_lit, model.reading ? "level now" : "no sound yet"};
    view.findings = findings_of(model);
    const auto& names = model.microphones.names;
    view.choices = names;
    // The list says which one is in use; without a list the name alone does.
    view.microphone = names.empty() && model.capture.device.empty() ? ""
                      : names.empty() ? "Microphone: " + model.capture.device
                                      : "Microphone";
    const auto chosen = std::ranges::find(names, model.microphones.chosen);
    view.chosen = chosen == names.end() ? -1 : static_cast<int>(chosen - names.begin());
    view.focused = model.microphones.focused;
    view.advice = "Switch the computer's own changes to the sound off, as they fade out long soft "
                  "notes and hide how a note begins: open the sound settings, choose this "
                  "microphone, and switch off what is called noise suppression, automatic gain, "
                  "voice enhancement or echo cancelling; a headset's own program may have the same "
                  "switches. Of two entries for one microphone take the plain one.";
    view.keys = {{"Enter", model.sound_check ? "practise" : "skip", Action::proceed},
                 {"R", "check again", Action::check_again},
                 {"F1", "help", Action::open_help},
                 {"Esc", "back", Action::back}};
    return view;
}

ChoicesView present_choices(const Model& model)
{
    return {.title = "Choose",
            .notes = {chips_of(kWarmUpNotes, DrillKind::warm_up_hold, model.drill),
                      chips_of(kLowLadder, DrillKind::ladder_hold, model.drill),
                      chips_of(kHighLadder, DrillKind::ladder_hold, model.drill)},
            .note_groups = {"Warm-up", "Lower notes", "Higher notes"},
            .rows = rows_of(model),
            .focused = model.focused_choice,
            .keys = {{"Enter", "practise", Action::proceed},
                     {"\u2191 \u2193", "another row", Action::down},
                     {"\u2190 \u2192", "change it", Action::right}}};
}

NoMicrophoneView present_no_microphone(const Model& model)
{
    NoMicrophoneView view;
    view.title = "No microphone";
    view.line = "There is no microphone to listen with.";
    view.detail = model.capture.message.empty()
                      ? "Plug one in, or switch it on: it is noticed by itself."
                      : model.capture.message;
    if (!model.options.demos.empty()) {
        view.offers.push_back({"Enter", "watch the demo instead", Action::play_demo});
    }
    view.offers.push_back({view.offers.empty() ? "Enter" : "R", "look for a microphone again",
                           Action::reopen_microphone});
    view.keys = {{"F1", "help", Action::open_help},
                 {"Esc", model.sent_to ? "back" : "leave", Action::back}};
    return view;
}

ToleranceView present_tolerance(const Model& model)
{
    ToleranceView view;
    view.title = "How near is near enough?";
    view.lead = "Wider and narrower while the voice sounds; the edges of the band can be heard.";
    view.note = name_of(model.drill.target, Spelling::display);
    view.band = fmt::format("\u00b1 {:.0f} cents", model.drill.band.value);
    view.band_meaning = band_meaning(model.drill.band);
    view.band_cents = model.drill.band.value;
    std::vector<std::optional<Cents>> slots;
    for (const auto& point : model.tolerance.points) slots.push_back(point.second);
    view.ink =
        strokes_of(slots, {.slot = 10ms, .band = Cents{view.shown_cents / RibbonView::kReach}});
    for (InkStroke& stroke : view.ink) {
        for (InkPoint& point : stroke) {
            point.at_s -= 0.01 * static_cast<double>(slots.size());
            point.height *= view.shown_cents / RibbonView::kReach;
        }
    }
    if (!slots.empty() && slots.back() && !view.ink.empty()) {
        view.now_cents = view.ink.back().back().height;
    }
    view.line = lie_words(view.now_cents, view.band_cents);
    view.meter = meter_of(model);
    view.edges = {{"\u2191", "wider", Action::widen_band},
                  {"\u2193", "narrower", Action::narrow_band},
                  {"1", "hear the note", Action::hear},
                  {"2", "hear the high edge", Action::hear_high_edge},
                  {"3", "hear the low edge", Action::hear_low_edge}};
    view.keys = {{"F1", "help", Action::open_help}, {"Esc", "back", Action::back}};
    return view;
}

}  // namespace holdwell
