#include <fmt/format.h>

#include "app/pages/hand_over_page.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/plan_changes.h"
#include "app/pages/plan_parts.h"
#include "app/pages/plan_sections.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

enum class Part { whole, drills, taper, taper_step, models, templates };

// The line by which it is opened.
const char* label_of(Part part)
{
    switch (part) {
    case Part::drills:
        return "Drills";
    case Part::taper:
        return "Steps of the taper";
    case Part::models:
        return "Your voice as the model";
    case Part::templates:
        return "Begin from a template";
    case Part::taper_step:
    case Part::whole:
        return "";
    }
    return "";
}

class PlanPage final : public RowPage {
public:
    explicit PlanPage(const OpenedClient& opened);

protected:
    void heard(const Answer& answer) override;
    void model_recorded(const ModelVoice& model) override { keep_model(desk_.plan, model); }
    void go_back() override;
    Sheet lay_out() override;

private:
    enum class Then { nothing, hand_over };
    bool is_to_be_saved() const { return !saved_ || desk_.plan != *saved_; }
    bool is_changed() const { return desk_.plan != begun_with_; }
    Plan& plan() { return desk_.plan; }
    DrillsOnDesk drills_on_desk(DrillList& drills);
    void save(Then then);
    void open(Part part);
    void open_templates();
    void begin_from(const Plan& from_template);
    void lay_out_whole(Sheet& sheet);
    void lay_out_end(Sheet& sheet);
    void lay_out_saving(Sheet& sheet);
    void lay_out_step(Sheet& sheet);
    ModelsOnDesk models_on_desk();

    Client client_;
    PlanOnDesk desk_;
    std::optional<Plan> saved_;  // in force
    Plan begun_with_;            // what is in force, or the usual plan
    Part part_{Part::whole};
    std::size_t step_{0};
    std::vector<Plan> templates_;
    Then then_{Then::nothing};
    bool is_waiting_{false};
    std::optional<Plan> warned_of_;  // that it was not saved
    std::string notice_;
};

PlanPage::PlanPage(const OpenedClient& opened) : client_{opened->file.client}
{
    if (!opened->file.plans.empty()) saved_ = opened->file.plans.back();
    if (saved_) begun_with_ = *saved_;
    desk_.plan = begun_with_;
    desk_.ladder = ladder_said(desk_.plan.voice);
    desk_.today = opened->today;
}

DrillsOnDesk PlanPage::drills_on_desk(DrillList& drills)
{
    return {.drills = drills,
            .focused_label = [this] { return focused_label(); },
            .focus_on = [this](std::string label) { focus_on(std::move(label)); }};
}

void PlanPage::save(Then then)
{
    if (is_waiting_) return;
    if (!faults_of(plan()).empty()) {
        notice_ = "It was not saved yet: look at the lines with a remark.";
        return;
    }
    then_ = then;
    if (!is_to_be_saved()) {
        if (then == Then::hand_over)
            wish(OpenPage{hand_over_page(HandOver::plan, {.side = FilesPageFor::Side::therapist,
                                                          .client = client_.id,
                                                          .code = client_.code})});
        else
            notice_ = "Nothing was changed: there is nothing to save.";
        return;
    }
    is_waiting_ = true;
    plan().written = desk_.today;
    wish(Ask{SavePlan{.client = client_.id, .plan = plan()}});
}

void PlanPage::heard(const Answer& answer)
{
    if (const auto* listed = std::get_if<TemplatesListed>(&answer)) templates_ = listed->plans;
    if (!is_waiting_) return;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        notice_ = refused->sentence;
    }
    if (const auto* saved = std::get_if<PlanSaved>(&answer); saved && saved->client == client_.id) {
        is_waiting_ = false;
        saved_ = saved->plan;
        begun_with_ = saved->plan;
        desk_.plan = saved->plan;
        notice_ = fmt::format("Saved as revision {}. The client has it once the file was handed "
                              "over.",
                              saved->plan.revision);
        if (then_ == Then::hand_over) save(Then::hand_over);
    }
}

void PlanPage::go_back()
{
    if (part_ == Part::taper_step) return open(Part::taper);
    if (part_ != Part::whole) {
        const Part left = part_;
        open(Part::whole);
        return focus_on(label_of(left));
    }
    if (!is_changed() || warned_of_ == plan()) return wish(ClosePage{});
    warned_of_ = plan();
    notice_ = "There are changes that were not saved. Escape once more leaves without them.";
}

void PlanPage::open(Part part)
{
    part_ = part;
    focus_first();
}

void PlanPage::open_templates()
{
    wish(Ask{ListTemplates{}});
    open(Part::templates);
}

void PlanPage::begin_from(const Plan& from_template)
{
    desk_.plan = begun_from(from_template, plan());
    desk_.ladder = ladder_said(plan().voice);
    open(Part::whole);
}

void PlanPage::lay_out_end(Sheet& sheet)
{
    sheet.say("Less and less", "");
    lay_out_taper_rules(sheet, desk_);
    sheet.link({.label = label_of(Part::taper),
                .columns = {counted(static_cast<int>(plan().taper.steps.size()), "step")},
                .meaning = "How practice becomes less once the goals are met."},
               [this] { open(Part::taper); });
    sheet.say("With the plan", "");
    sheet.link({.label = label_of(Part::models),
                .columns = {counted(static_cast<int>(plan().models.size()), "recording")},
                .meaning = "Heard instead of the tone; it travels with the plan."},
               [this] { open(Part::models); });
    lay_out_keeping(sheet, desk_);
}

void PlanPage::lay_out_saving(Sheet& sheet)
{
    std::string changes;
    if (!saved_) changes = "This is the first plan: all of it is new.";
    for (const PlanChange& change :
         saved_ ? changes_between(*saved_, plan()) : std::vector<PlanChange>{}) {
        if (!changes.empty()) changes += '\n';
        changes += change_said(change);
    }
    sheet.say("What changes for the client", changes.empty() ? "Nothing so far." : changes);
    sheet.button({.label = "Save", .meaning = "As the next revision.", .does = "save"},
                 [this] { save(Then::nothing); });
    sheet.button({.label = "Save and hand over",
                  .meaning = "Writes the plan file for the client.",
                  .does = "save"},
                 [this] { save(Then::hand_over); });
}

void PlanPage::lay_out_whole(Sheet& sheet)
{
    sheet.lead = saved_ ? fmt::format("{}, revision {}{}", shortened(client_.code, 40),
                                      saved_->revision, is_changed() ? ", changed" : "")
                        : shortened(client_.code, 40) + ", not saved yet";
    sheet.link({.label = label_of(Part::templates)}, [this] { open_templates(); });
    lay_out_words(sheet, desk_);
    lay_out_voice(sheet, desk_);
    sheet.say("Practice", "");
    sheet.link({.label = label_of(Part::drills),
                .columns = {drills_in_brief(plan().drills)},
                .meaning = capitalised(drills_in_words(plan().drills)) + "."},
               [this] { open(Part::drills); });
    lay_out_dose(sheet, desk_);
    lay_out_hearing(sheet, desk_);
    lay_out_end(sheet);
    lay_out_saving(sheet);
    sheet.key({"S", "save", 'S'}, [this] { save(Then::nothing); });
    sheet.key({"H", "save and hand over", 'H'}, [this] { save(Then::hand_over); });
}

void PlanPage::lay_out_step(Sheet& sheet)
{
    sheet.title = fmt::format("Step {} of the taper", step_ + 1);
    lay_out_taper_step(sheet, {.plan = plan(),
                               .at = step_,
                               .drills = drills_on_desk(plan().taper.steps[step_].drills),
                               .taken_out = [this] { open(Part::taper); }});
}

ModelsOnDesk PlanPage::models_on_desk()
{
    return {.plan = plan(),
            .focused_label = [this] { return focused_label(); },
            .record =
                [this](const ModelVoice& model) {
                    wish(RecordModel{model.kind, model.note});
                },
            .hear = [this](const ModelVoice& model) { wish(HearModel{model}); },
            .say = [this](std::string words) { notice_ = std::move(words); }};
}

Sheet PlanPage::lay_out()
{
    desk_.faults = faults_of(plan());
    Sheet sheet;
    sheet.title = "Plan";
    switch (part_) {
    case Part::whole:
        lay_out_whole(sheet);
        break;
    case Part::drills:
        sheet.title = "Drills";
        sheet.lead = "In the order in which they are practised.";
        lay_out_drills(sheet, drills_on_desk(plan().drills));
        break;
    case Part::taper:
        sheet.title = "Steps of the taper";
        sheet.lead = "After the full plan, from one to the next as you decide.";
        lay_out_taper_steps(sheet, plan(), [this](std::size_t step) {
            step_ = step;
            open(Part::taper_step);
        });
        break;
    case Part::taper_step:
        lay_out_step(sheet);
        break;
    case Part::models:
        sheet.title = "Your voice as the model";
        lay_out_models(sheet, models_on_desk());
        break;
    case Part::templates:
        sheet.title = "Begin from a template";
        lay_out_templates(sheet, templates_, [this](const Plan& chosen) { begin_from(chosen); });
        break;
    }
    sheet.notice = std::exchange(notice_, "");
    return sheet;
}

}  // namespace

std::unique_ptr<Page> plan_page(const OpenedClient& opened) { return make_page<PlanPage>(opened); }

}  // namespace holdwell
