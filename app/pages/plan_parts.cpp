#include "app/pages/plan_parts.h"

#include <fmt/format.h>

#include <optional>

#include "app/pages/page_words.h"
#include "app/pages/plan_changes.h"
#include "app/pages/plan_editing.h"
#include "app/practice/taper.h"

namespace holdwell {
namespace {

void lay_out_model(Sheet& sheet, const ModelsOnDesk& desk, const ModelVoice& wanted)
{
    const bool is_there = find_model(desk.plan, wanted) != nullptr;
    sheet.link({.label = drill_on_note_said(wanted.kind, wanted.note),
                .columns = {is_there ? "your voice" : "the tone"},
                .meaning = "Up to 15 s; the recording ends when you stop singing.",
                .does = is_there ? "record it anew" : "record"},
               [record = desk.record, wanted] { record(wanted); });
}

// Of the drill in focus, recorded or not.
std::optional<ModelVoice> focused_model(const ModelsOnDesk& desk)
{
    const std::string label = desk.focused_label();
    for (const ModelVoice& wanted : models_wanted(desk.plan))
        if (drill_on_note_said(wanted.kind, wanted.note) == label) return wanted;
    return std::nullopt;
}

void hear_focused_model(const ModelsOnDesk& desk)
{
    const auto wanted = focused_model(desk);
    if (!wanted) return;
    if (const ModelVoice* recorded = find_model(desk.plan, *wanted))
        desk.hear(*recorded);
    else
        desk.say("Nothing is recorded for it: the client hears the tone.");
}

}  // namespace

void lay_out_taper_steps(Sheet& sheet, Plan& plan, const std::function<void(std::size_t)>& open)
{
    for (std::size_t i = 0; i < plan.taper.steps.size(); ++i) {
        const TaperStep& step = plan.taper.steps[i];
        sheet.link({.label = fmt::format("{}. {}", i + 1, step.name),
                    .columns = {fmt::format("{} a week", step.practices_a_week),
                                counted(step.days, "day")},
                    .meaning = capitalised(drills_in_words(step.drills)),
                    .does = "change it"},
                   [open, i] { open(i); });
    }
    sheet.button({.label = "Add a step", .does = "add it"}, [&plan] { add_taper_step(plan); });
    sheet.button({.label = "Use the usual steps",
                  .meaning = "Six, of about a week each, down to once a week; in place of those "
                             "above.",
                  .does = "use them"},
                 [&plan] {
                     plan.taper.steps = usual_taper(plan.drills).steps;
                     step_taper_step(plan, 0);
                 });
}

void lay_out_taper_step(Sheet& sheet, const StepOnDesk& desk)
{
    TaperStep& step = desk.plan.taper.steps[desk.at];
    sheet.text({.label = "Name", .text = step.name},
               [&step](const std::string& text) { step.name = text; });
    sheet.value({.label = "Practices a week", .value = std::to_string(step.practices_a_week)},
                [&step](int by) { step_practices_a_week(step, by); });
    sheet.value({.label = "For", .value = counted(step.days, "day")},
                [&step](int by) { step_days(step, by); });
    lay_out_drills(sheet, desk.drills);
    sheet.button({.label = "Take this step out", .does = "take it out"},
                 [&plan = desk.plan, at = desk.at, taken_out = desk.taken_out] {
                     remove_taper_step(plan, at);
                     taken_out();
                 });
}

void lay_out_models(Sheet& sheet, const ModelsOnDesk& desk)
{
    // Granot et al., J. Voice, 2013 (abstract): a live voice is matched best, a piano worse.
    sheet.lead = "Most people match a voice better than an instrument. Sing each as you would for "
                 "the client; what is not recorded is given by a tone.";
    for (const ModelVoice& model : models_wanted(desk.plan)) lay_out_model(sheet, desk, model);
    sheet.key({"H", "hear it", 'H'}, [desk] { hear_focused_model(desk); });
    sheet.key({"X", "back to the tone", 'X'}, [desk] {
        if (const auto model = focused_model(desk)) remove_model(desk.plan, *model);
    });
}

void lay_out_templates(Sheet& sheet, const std::vector<Plan>& templates,
                       const std::function<void(const Plan&)>& begin_from)
{
    sheet.lead = "In place of what is on the plan page. The goal and your recordings stay, and "
                 "nothing is saved yet.";
    for (const Plan& plan : templates)
        sheet.link(
            {.label = plan.title,
             .columns = {voice_said(plan.voice.set), fmt::format("{} a day", plan.practices_a_day),
                         counted(plan.weeks, "week")},
             .meaning = drills_in_words(plan.drills),
             .does = "begin from it"},
            [begin_from, plan] { begin_from(plan); });
    if (templates.empty()) sheet.say("", "No template was found.");
}

}  // namespace holdwell
