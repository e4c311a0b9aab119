#include "app/pages/plan_sections.h"

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/plan_changes.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

// A value that one function of plan_editing.h steps.
void add_stepped(Sheet& sheet, PlanOnDesk& desk, ValueRow row, void (*step)(Plan&, int))
{
    sheet.value(std::move(row), [&desk, step](int by) { step(desk.plan, by); });
}

template <typename Choice>
void toggle(Choice& choice, Choice one, Choice other)
{
    choice = choice == one ? other : one;
}

void choose_next_voice(PlanOnDesk& desk, int by)
{
    constexpr int kSets = 3;
    const int next = (static_cast<int>(desk.plan.voice.set) + by + kSets) % kSets;
    choose_voice(desk.plan, static_cast<VoiceSet>(next));
    desk.ladder = ladder_said(desk.plan.voice);
}

}  // namespace

std::string PlanOnDesk::fault_at(const std::string& place) const
{
    for (const Fault& fault : faults)
        if (fault.place == place || fault.place.starts_with(place + "[") ||
            fault.place.starts_with(place + "."))
            return fault.sentence;
    return {};
}

void lay_out_words(Sheet& sheet, PlanOnDesk& desk)
{
    sheet.text({.label = "Title", .text = desk.plan.title, .fault = desk.fault_at("title")},
               [&desk](const std::string& text) { desk.plan.title = text; });
    sheet.text({.label = "Words for the client",
                .text = desk.plan.words_for_client,
                .meaning = "Shown before a practice: the sound to make, the posture, a reminder. "
                           "May be left empty.",
                .fault = desk.fault_at("words_for_client")},
               [&desk](const std::string& text) { desk.plan.words_for_client = text; });
}

void lay_out_voice(Sheet& sheet, PlanOnDesk& desk)
{
    sheet.say("Notes", "");
    sheet.value({.label = "Voice",
                 .value = voice_said(desk.plan.voice.set),
                 .meaning = "Higher: F4 and C4 to G4. Lower: F3 and C3 to G3. Chosen by you, not "
                            "by sex or age.",
                 .fault = desk.fault_at("voice.set")},
                [&desk](int by) { choose_next_voice(desk, by); });
    add_stepped(sheet, desk,
                {.label = "Warm-up note",
                 .value = name_of(desk.plan.voice.warm_up, Spelling::display),
                 .meaning = "By semitones.",
                 .fault = desk.fault_at("voice.warm_up")},
                step_warm_up);
    std::string fault = desk.fault_at("voice.ladder");
    Plan tried = desk.plan;
    if (type_ladder(tried, desk.ladder) == LadderTyped::not_notes)
        fault = "Notes are typed with their octave, apart by blanks: C4 D4 E4 F4 G4.";
    sheet.text({.label = "Ladder",
                .text = desk.ladder,
                .meaning = "The notes of the ladder holds, one to eight, from low to high.",
                .fault = fault},
               [&desk](const std::string& text) {
                   desk.ladder = text;
                   type_ladder(desk.plan, text);
               });
}

void lay_out_dose(Sheet& sheet, PlanOnDesk& desk)
{
    const Plan& plan = desk.plan;
    add_stepped(sheet, desk,
                {.label = "Practices a day",
                 .value = std::to_string(plan.practices_a_day),
                 .meaning = "1 to 6; two is usual.",
                 .fault = desk.fault_at("practices_a_day")},
                step_practices_a_day);
    add_stepped(sheet, desk,
                {.label = "Most practices a day",
                 .value = std::to_string(plan.most_practices_a_day),
                 .meaning = "More are kindly advised against; the program never locks.",
                 .fault = desk.fault_at("most_practices_a_day")},
                step_most_practices);
    add_stepped(sheet, desk,
                {.label = "Weeks",
                 .value = std::to_string(plan.weeks),
                 .meaning = "1 to 26; six to eight are usual.",
                 .fault = desk.fault_at("weeks")},
                step_weeks);
    add_stepped(sheet, desk,
                {.label = "Rest after a hold",
                 .value = short_seconds(plan.rest),
                 .meaning = "15 s or more between holds on one whole breath.",
                 .fault = desk.fault_at("rest_s")},
                step_rest);
}

void lay_out_hearing(Sheet& sheet, PlanOnDesk& desk)
{
    Plan& plan = desk.plan;
    sheet.say("Goal, and how it is heard", "");
    sheet.value({.label = "Goal of each hold",
                 .value = goal_said(plan.goal),
                 .meaning = "Suggestions with their reasons are under Goals and taper. Changed "
                            "here, it is set by hand; below 1 s there is none.",
                 .fault = desk.fault_at("goal")},
                [&desk](int by) { step_goal(desk.plan, by, desk.today); });
    sheet.value(
        {.label = "Counts towards the goal",
         .value = counts_said(plan.counts),
         .meaning = "The clock itself never stops because of pitch."},
        [&plan](int) { toggle(plan.counts, HoldCounts::all_phonation, HoldCounts::in_band_only); });
    add_stepped(sheet, desk,
                {.label = "Near enough",
                 .value = band_said(plan.band),
                 .meaning = "To each side of the note. 100 cents are a semitone: E and F lie that "
                            "close.",
                 .fault = desk.fault_at("band_cents")},
                step_band);
    add_stepped(
        sheet, desk,
        {.label = "A hold goes on over gaps up to",
         .value = fmt::format("{:.2f} s", plan.bridge.count()),
         .meaning =
             "A shorter silence is an interruption; a longer one, or a breath, ends the hold.",
         .fault = desk.fault_at("bridge_s")},
        step_bridge);
    sheet.value({.label = "The note is played before each trial",
                 .value = plan.cue == NoteCue::played ? "yes" : "no"},
                [&plan](int) { toggle(plan.cue, NoteCue::played, NoteCue::silent); });
    sheet.value({.label = "Pitch line while holding",
                 .value = plan.pitch_line == PitchLine::shown ? "shown" : "hidden",
                 .meaning = "Chasing a line can cost effort; hidden, it is shown after the hold."},
                [&plan](int) { toggle(plan.pitch_line, PitchLine::shown, PitchLine::hidden); });
}

void lay_out_keeping(Sheet& sheet, PlanOnDesk& desk)
{
    Plan& plan = desk.plan;
    sheet.value(
        {.label = "Kept",
         .value = plan.keeps == Keeps::measures_only ? "what was measured" : "audio too",
         .meaning = "Audio only if the client agrees as well: a voice identifies a person."},
        [&plan](int) { toggle(plan.keeps, Keeps::measures_only, Keeps::audio_too); });
    if (plan.keeps == Keeps::audio_too)
        add_stepped(sheet, desk,
                    {.label = "Audio is deleted after",
                     .value = counted(plan.keep_audio_days, "day"),
                     .fault = desk.fault_at("keep_audio_days")},
                    step_keep_days);
}

void lay_out_taper_rules(Sheet& sheet, PlanOnDesk& desk)
{
    if (desk.plan.taper.steps.empty()) return;
    add_stepped(sheet, desk,
                {.label = "Now at",
                 .value = taper_said(desk.plan),
                 .meaning = "No step is ever taken by itself.",
                 .fault = desk.fault_at("taper_step")},
                step_taper_step);
    add_stepped(sheet, desk,
                {.label = "Next step is offered after the goals are met on",
                 .value = counted(desk.plan.taper.met_on_days, "day"),
                 .fault = desk.fault_at("taper.met_on_days")},
                step_met_on_days);
    add_stepped(sheet, desk,
                {.label = "One step back is suggested below",
                 .value = percent_said(desk.plan.taper.keep_share) + " of the goal",
                 .fault = desk.fault_at("taper.keep_share")},
                step_keep_share);
}

namespace {

std::string numbered(std::size_t at, DrillKind kind)
{
    return fmt::format("{}. {}", at + 1, name_of(kind));
}

std::optional<std::size_t> drill_in_focus(const DrillsOnDesk& desk)
{
    const std::string label = desk.focused_label();
    for (std::size_t i = 0; i < desk.drills.size(); ++i)
        if (numbered(i, desk.drills[i].kind) == label) return i;
    return {};
}

void move_focused(const DrillsOnDesk& desk, int by)
{
    const auto at = drill_in_focus(desk);
    if (!at) return;
    const std::size_t to = move_drill(desk.drills, *at, by);
    desk.focus_on(numbered(to, desk.drills[to].kind));
}

}  // namespace

void lay_out_drills(Sheet& sheet, DrillsOnDesk desk)
{
    for (std::size_t i = 0; i < desk.drills.size(); ++i)
        sheet.value({.label = numbered(i, desk.drills[i].kind),
                     .value = times_said(desk.drills[i].repetitions),
                     .meaning = "Left and right: how often. U and D move it, X takes it out."},
                    [&drills = desk.drills, i](int by) { step_repetitions(drills, i, by); });
    sheet.say("Add a drill", "At the end of the list.");
    for (const DrillKind kind :
         {DrillKind::warm_up_hold, DrillKind::rising_glide, DrillKind::falling_glide,
          DrillKind::ladder_hold, DrillKind::s_hold, DrillKind::z_hold})
        sheet.button({.label = name_of(kind),
                      .meaning = kind == DrillKind::ladder_hold ? "All notes of the ladder." : "",
                      .does = "add it"},
                     [&drills = desk.drills, kind] { add_drill(drills, kind); });
    sheet.key({"U", "up", 'U'}, [desk] { move_focused(desk, -1); });
    sheet.key({"D", "down", 'D'}, [desk] { move_focused(desk, +1); });
    sheet.key({"X", "take out", 'X'}, [desk] {
        if (const auto at = drill_in_focus(desk)) remove_drill(desk.drills, *at);
    });
}

}  // namespace holdwell
