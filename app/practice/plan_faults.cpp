// What cannot be practised in a plan, each fault at its own place.

#include <algorithm>
#include <array>
#include <cstdio>
#include <optional>
#include <string_view>
#include <utility>

#include "app/practice/drill_words.h"
#include "app/practice/flac_length.h"
#include "app/practice/plan.h"
#include "app/practice/plan_limits.h"
#include "app/practice/utf8.h"

namespace holdwell {
namespace {

namespace limits = plan_limits;

std::string text_of(int value) { return std::to_string(value); }
std::string text_of(std::size_t value) { return std::to_string(value); }
std::string text_of(double value)
{
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.6g", value);
    return text.data();
}
std::string text_of(Seconds value) { return text_of(value.count()); }
std::string text_of(Cents value) { return text_of(value.value); }
std::string text_of(Note value)
{
    const bool has_name = value.midi >= 0 && value.midi <= 127;
    return has_name ? name_of(value) : "no note (" + text_of(value.midi) + ")";
}

std::string place_in(const std::string& list, std::size_t index)
{
    return list + "[" + std::to_string(index) + "]";
}

class Faults {
public:
    void add(std::string place, std::string sentence)
    {
        found_.push_back({std::move(place), std::move(sentence)});
    }

    template <typename Value>
    void check(const std::string& place, Value value, Limits<Value> may_be, const char* unit = "")
    {
        if (may_be.hold(value)) return;
        add(place, "It is " + text_of(value) + unit + "; it may be " + text_of(may_be.least) +
                       " to " + text_of(may_be.most) + unit + ".");
    }

    void check_count(const std::string& place, std::size_t count, Limits<std::size_t> may_be)
    {
        if (may_be.hold(count)) return;
        add(place, "There are " + text_of(count) + "; there may be " + text_of(may_be.least) +
                       " to " + text_of(may_be.most) + ".");
    }

    void check_text(const std::string& place, std::string_view text, Limits<std::size_t> letters)
    {
        const auto count = letters_in(text);
        if (!count)
            return add(place, "It holds bytes that are no UTF-8 text; it may hold letters.");
        if (letters.hold(*count)) return;
        add(place, "It has " + text_of(*count) + " letters; it may have " + text_of(letters.least) +
                       " to " + text_of(letters.most) + ".");
    }

    void check_line(const std::string& place, std::string_view text, Limits<std::size_t> letters)
    {
        check_text(place, text, letters);
        if (has_control(text))
            add(place, "It holds control characters; it may be one line of text.");
    }

    void check_lines(const std::string& place, std::string_view text)
    {
        check_text(place, text, {0, limits::kMostLetters});
        if (has_control_in_lines(text))
            add(place, "It holds control characters; it may hold letters and line breaks.");
    }

    // A day that is not known yet is left out.
    void check_date(const std::string& place, Date date)
    {
        if (date == Date{}) return;
        const bool four_digits =
            date.year() >= std::chrono::year{1000} && date.year() <= std::chrono::year{9999};
        if (!date.ok() || !four_digits)
            add(place, "It is no day of the calendar; it may be such as 2026-03-02.");
    }

    std::vector<Fault> take() { return std::move(found_); }

private:
    std::vector<Fault> found_;
};

bool is_id(const std::string& text)
{
    const auto is_digit = [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); };
    return text.size() == 32 && std::all_of(text.begin(), text.end(), is_digit);
}

void check_head(const Plan& plan, Faults& faults)
{
    if (!plan.id.text.empty() && !is_id(plan.id.text))
        faults.add("id", "It may be 32 digits of 0 to 9 and a to f, or left out.");
    if (plan.revision < 1)
        faults.add("revision", "It is " + text_of(plan.revision) + "; it may be 1 or more.");
    faults.check_line("title", plan.title, limits::kTitleLetters);
    faults.check_date("written", plan.written);
    faults.check_lines("words_for_client", plan.words_for_client);
}

void check_voice(const VoiceNotes& voice, Faults& faults)
{
    const std::size_t before = voice.ladder.size();
    faults.check("voice.warm_up", voice.warm_up, limits::kNote);
    faults.check_count("voice.ladder", before, limits::kLadder);
    bool in_range = limits::kNote.hold(voice.warm_up) && limits::kLadder.hold(before);
    for (std::size_t i = 0; i < voice.ladder.size(); ++i) {
        const Note note = voice.ladder[i];
        const std::string place = place_in("voice.ladder", i);
        faults.check(place, note, limits::kNote);
        in_range = in_range && limits::kNote.hold(note);
        if (i == 0 || voice.ladder[i - 1] < note) continue;
        in_range = false;
        faults.add(place, "It is " + text_of(note) + " after " + text_of(voice.ladder[i - 1]) +
                              "; the ladder may only rise.");
    }
    if (voice.set == VoiceSet::own || !in_range || voice == notes_of(voice.set)) return;
    const char* name = voice.set == VoiceSet::higher ? "higher" : "lower";
    const char* notes =
        voice.set == VoiceSet::higher ? "F4 and C4, D4, E4, F4, G4" : "F3 and C3, D3, E3, F3, G3";
    faults.add("voice.set", std::string{"It is "} + name + ", which means " + notes +
                                "; for other notes it may be own.");
}

void check_drills(const std::string& place, const std::vector<PlannedDrill>& drills, Faults& faults)
{
    faults.check_count(place, drills.size(), limits::kDrills);
    for (std::size_t i = 0; i < drills.size(); ++i)
        faults.check(place_in(place, i) + ".repetitions", drills[i].repetitions,
                     limits::kRepetitions);
}

void check_dose(const Plan& plan, Faults& faults)
{
    check_drills("drills", plan.drills, faults);
    faults.check("practices_a_day", plan.practices_a_day, limits::kPracticesADay);
    const int least = limits::kPracticesADay.hold(plan.practices_a_day) ? plan.practices_a_day : 1;
    faults.check("most_practices_a_day", plan.most_practices_a_day,
                 Limits<int>{least, limits::kMostPracticesADay});
    faults.check("weeks", plan.weeks, limits::kWeeks);
    faults.check("rest_s", plan.rest, limits::kRest, " s");
}

void check_judging(const Plan& plan, Faults& faults)
{
    faults.check("band_cents", plan.band, limits::kBand, " cents");
    faults.check("bridge_s", plan.bridge, limits::kBridge, " s");
    if (!plan.goal) return;
    faults.check("goal.hold_s", plan.goal->hold, limits::kGoal, " s");
    faults.check_date("goal.set_on", plan.goal->set_on);
    faults.check_lines("goal.reasoning", plan.goal->reasoning);
}

void check_taper(const Plan& plan, Faults& faults)
{
    const std::vector<TaperStep>& steps = plan.taper.steps;
    faults.check_count("taper.steps", steps.size(), limits::kTaperSteps);
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const std::string place = place_in("taper.steps", i);
        faults.check_line(place + ".name", steps[i].name, limits::kStepNameLetters);
        check_drills(place + ".drills", steps[i].drills, faults);
        faults.check(place + ".practices_a_week", steps[i].practices_a_week,
                     limits::kPracticesAWeek);
        faults.check(place + ".days", steps[i].days, limits::kStepDays);
    }
    faults.check("taper.met_on_days", plan.taper.met_on_days, limits::kMetOnDays);
    faults.check("taper.keep_share", plan.taper.keep_share, limits::kKeepShare);
    const int most = static_cast<int>(std::min<std::size_t>(steps.size(), 1000));
    if (plan.taper_step < 0 || plan.taper_step > most)
        faults.add(
            "taper_step",
            "It is " + text_of(plan.taper_step) +
                "; it may be 0 (the full "
                "plan)" +
                (most == 0 ? std::string{} : " to " + text_of(most) + ", a step of the taper") +
                ".");
}

void check_sound(const std::string& place, const std::vector<std::byte>& flac, Faults& faults)
{
    const auto length = flac_length(flac);
    if (!length) return faults.add(place, "It is no FLAC recording; it may be one of up to 15 s.");
    if (*length > limits::kLongestModel)
        return faults.add(place, "It lasts " + tenths(*length) + " s; it may last up to 15 s.");
    if (flac.size() > limits::kMostModelBytes)
        faults.add(place, "It has " + text_of(flac.size()) + " bytes; it may have up to " +
                              text_of(limits::kMostModelBytes) + ".");
}

void check_models(const std::vector<ModelVoice>& models, Faults& faults)
{
    if (models.size() > limits::kMostModels)
        faults.check_count("models", models.size(), {0, limits::kMostModels});
    for (std::size_t i = 0; i < models.size(); ++i) {
        const ModelVoice& model = models[i];
        const std::string place = place_in("models", i);
        if (model.note && !has_target(model.kind))
            faults.add(place + ".note", "Only a hold has a note; it may be left out here.");
        if (model.note) faults.check(place + ".note", *model.note, limits::kNote);
        if (!model.note && has_target(model.kind))
            faults.add(place + ".note", "It is missing; it may be C2 to C6.");
        const auto same_drill = [&model](const ModelVoice& other) {
            return other.kind == model.kind && other.note == model.note;
        };
        const auto here = models.begin() + static_cast<std::ptrdiff_t>(i);
        if (std::any_of(models.begin(), here, same_drill))
            faults.add(place, "There is one for this drill already; there may be one for each.");
        check_sound(place + ".flac_base64", model.flac, faults);
    }
}

}  // namespace

std::vector<Fault> faults_of(const Plan& plan)
{
    Faults faults;
    check_head(plan, faults);
    check_voice(plan.voice, faults);
    check_dose(plan, faults);
    check_judging(plan, faults);
    faults.check("keep_audio_days", plan.keep_audio_days, limits::kKeepAudioDays);
    check_taper(plan, faults);
    check_models(plan.models, faults);
    return faults.take();
}

}  // namespace holdwell
