#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/ui/present.h"
#include "app/ui/routine.h"

namespace holdwell {
namespace {

// How well a voice carries over the room. Common practice, no source: below 15 dB a soft note and
// the room can no longer be told apart with certainty.
constexpr Decibels kClearOverRoom{15.0};
constexpr Dbfs kVeryLoud{-6.0};
// Without a sound check the room is judged by its level alone, for a microphone set as most are.
constexpr Dbfs kQuietRoom{-60.0};
constexpr Dbfs kUsableRoom{-45.0};

std::string voice_words(const Model& model)
{
    if (!model.reading || !model.hold.under_way) return {};
    const FrameReading& r = *model.reading;
    if (r.clipped_samples > 0 || r.level > kVeryLoud) return "too loud for the microphone";
    if (r.level - r.noise_floor < kClearOverRoom) return "voice faint";
    if (model.ear.loudness == Loudness::much_louder) return "louder than needed";
    return "voice easy";
}

std::string held_in_tenths(const Model& model)
{
    if (model.hold.under_way) return tenths(model.hold.under_way->so_far);
    const bool just_done = model.stage == Stage::finished || model.stage == Stage::paused;
    if (!just_done || !model.last) return "0.0";
    if (model.last->hold) return tenths(model.last->hold->length);
    if (model.last->sibilant) return tenths(*model.last->sibilant);
    if (!model.last->glide) return "0.0";
    return tenths(
        duration_of(model.last->glide->offset - model.last->glide->onset, model.capture.rate));
}

Sounding sounding_of(const Model& model)
{
    Sounding now{.kind = model.drill.kind, .lie = model.hold.lie, .loudness = model.ear.loudness};
    if (!model.hold.under_way) return now;
    now.octaves_off = model.hold.under_way->octaves_off;
    now.past_goal = model.drill.goal && model.hold.under_way->so_far >= *model.drill.goal;
    // The words must not give away what the hidden line would.
    if (pitch_line_of(model) == PitchLine::hidden) now.lie = Lie::unknown;
    return now;
}

std::string line_after_demo(const Model& model)
{
    const bool was_whole = model.capture.message.empty();  // else the notice says what is wrong
    std::string line = was_whole ? "The demo has ended." : "The demo could not be played whole.";
    if (model.options.demos.size() > 1) return line + " Press Enter to hear the next one.";
    return line + (was_whole ? " Press Enter to hear it again." : " Press Enter to try again.");
}

std::string line_of_capture(const Model& model)
{
    switch (model.capture.state) {
    case CaptureState::opening:
        return "Opening the microphone\u2026";
    case CaptureState::lost:
        return "The microphone is gone. Waiting for it to come back.";
    case CaptureState::recording_ended:
        return line_after_demo(model);
    case CaptureState::live:
    case CaptureState::muted:
    case CaptureState::no_device:
        break;
    }
    return {};
}

std::string line_of(const Model& model)
{
    const bool tells_trial = model.stage == Stage::finished && model.last;
    if (const auto line = line_of_capture(model); !line.empty() && !tells_trial) return line;
    if (model.ear.refused) return *model.ear.refused;
    switch (model.stage) {
    case Stage::playing:
        return line_when_playing(model.drill);
    case Stage::settling:
        return line_when_settling(model.now - model.settling_since.value_or(model.now));
    case Stage::ready:
        return line_when_ready(model.drill);
    case Stage::sounding:
        return line_when_sounding(sounding_of(model));
    case Stage::finished:
        return model.last ? model.last->line : line_when_ready(model.drill);
    case Stage::paused:
    case Stage::checking_room:
    case Stage::checking_voice:
        break;
    }
    return line_when_paused();
}

std::string joined(const std::vector<std::string>& parts)
{
    std::string text;
    for (const std::string& part : parts) {
        if (part.empty()) continue;
        if (!text.empty()) text += "  \u00b7  ";
        text += part;
    }
    return text;
}

std::string rest_words(const Model& model)
{
    if (model.capture.state == CaptureState::recording_ended) {
        return model.options.demos.size() < 2 ? "Enter plays the demo again"
                                              : "Enter plays the next demo";
    }
    // Without sound the stream's clock stands still, and nothing will be listened for.
    if (!model.rest_since || model.capture.state == CaptureState::lost) return {};
    const double left = (model.options.rest - (model.now - *model.rest_since)).count();
    return fmt::format("listening again in {:.0f} s", std::max(1.0, std::ceil(left)));
}

std::string second_line_of(const Model& model)
{
    if (model.stage == Stage::sounding && model.hold.under_way) {
        const UnderWay& now = *model.hold.under_way;
        const bool has_onset = now.start && has_target(model.drill.kind);
        return has_onset ? onset_words(*now.start) : "";
    }
    if (model.stage == Stage::finished && model.last) {
        const auto gaps = static_cast<int>(model.last->interruptions_at.size());
        const std::string loud =
            model.last->hold ? loudness_words(model.last->hold->loudness) : std::string{};
        const bool is_even = model.last->hold && model.last->hold->hold.like_a_machine;
        const std::string even = is_even ? kLikeAMachine : "";
        return joined(
            {onset_words(model.last->start), even, gap_words(gaps), loud, rest_words(model)});
    }
    if (model.stage != Stage::ready) return {};
    if (model.discarded) {
        return fmt::format("That was short ({}). Take your time.",
                           seconds_in_words(*model.discarded));
    }
    constexpr Seconds kPuzzling{2.0};
    const bool wants_note = model.drill.kind != DrillKind::s_hold;
    if (wants_note && model.ear.unclear >= kPuzzling) {
        return "There is sound, but no single clear note in it.";
    }
    return "The clock starts and stops by itself.";
}

std::vector<std::string> facts_of(const Model& model)
{
    std::vector<std::string> facts{"seconds"};
    if (const auto best = longest_yet(model); best && !is_glide(model.drill.kind)) {
        facts.push_back("longest yet " + tenths(*best));
    }
    if (model.drill.goal && !is_glide(model.drill.kind)) {
        facts.push_back(fmt::format("goal {:g}", rounded_to_tenth(*model.drill.goal).count()));
    }
    return facts;
}

std::string next_of(const Drill& drill)
{
    const Drill next = drill_after(drill);
    if (!has_target(drill.kind)) return "again";
    return "next: " + name_of(next.target, Spelling::display);
}

std::vector<KeyHint> keys_of(const Model& model)
{
    const char* space = model.stage == Stage::paused ? "go on" : "pause";
    return {{"Space", space, Action::pause_or_resume},
            {"Enter", "again", Action::proceed},
            {"N", next_of(model.drill), Action::next_drill},
            {"C", "choose", Action::open_choices},
            {"F1", "help", Action::open_help},
            {"Esc", model.sent_to ? "back" : "leave", Action::back}};
}

}  // namespace

std::optional<Seconds> longest_yet(const Model& model)
{
    const auto& drill = model.drill;
    const auto key = std::pair{drill.kind, has_target(drill.kind) ? drill.target.midi : 0};
    const auto found = model.longest.find(key);
    return found == model.longest.end() ? std::nullopt : std::optional{found->second};
}

std::optional<RoomVerdict> room_of(const Model& model)
{
    if (model.sound_check) return model.sound_check->room;
    if (!model.reading || model.reading->noise_floor <= kDigitalSilence) return std::nullopt;
    if (model.reading->noise_floor <= kQuietRoom) return RoomVerdict::quiet;
    return model.reading->noise_floor <= kUsableRoom ? RoomVerdict::usable : RoomVerdict::noisy;
}

MeterView meter_of(const Model& model)
{
    MeterView meter{.lit = model.meter_lit, .words = {}};
    const auto room = room_of(model);
    if (room) meter.words = room_words(*room);
    const std::string voice = voice_words(model);
    if (!voice.empty()) meter.words += (meter.words.empty() ? "" : ", ") + voice;
    return meter;
}

std::string notice_of(const Model& model)
{
    if (!model.capture.message.empty()) return model.capture.message;
    // That a demo has ended is no trouble: the line of words says it.
    if (model.capture.state == CaptureState::recording_ended) return {};
    if (model.capture.state == CaptureState::muted) {
        return "The microphone gives no sound at all: is it switched off or muted?";
    }
    if (model.stage == Stage::finished && model.last && !model.last->advice.empty()) {
        return model.last->advice;
    }
    if (model.ear.processing) return processing_words(*model.ear.processing);
    if (model.capture.lost.value > 0) return lost_words(model.capture.lost, model.capture.rate);
    return {};
}

PracticeView present_practice(const Model& model)
{
    PracticeView view;
    view.drill = name_of(model.drill.kind);
    view.drill_aim = aim_of(model.drill, model.trials_done);
    if (has_target(model.drill.kind)) {
        view.note = name_of(model.drill.target, Spelling::display);
        view.hear = {"H", "hear it", Action::hear};
    }
    view.stopwatch = held_in_tenths(model);
    view.facts = facts_of(model);
    if (is_glide(model.drill.kind)) {
        view.picture = glide_picture_of(model);
    } else {
        view.picture = ribbon_of(model);
    }
    view.line = line_of(model);
    view.second = second_line_of(model);
    view.notice = notice_of(model);
    view.meter = meter_of(model);
    view.keys = keys_of(model);
    return model.guide ? as_guided(std::move(view), model) : view;
}

}  // namespace holdwell
