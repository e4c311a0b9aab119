#include <algorithm>

#include <fmt/format.h>

#include "app/pages/client_words.h"
#include "app/pages/confirm_page.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/record_words.h"
#include "app/pages/row_page.h"
#include "app/practice/drill_words.h"
#include "app/practice/taper.h"

namespace holdwell {
namespace {

class ClientPage final : public RowPage {
public:
    explicit ClientPage(Id client) : id_{std::move(client)} {}

protected:
    void shown() override;
    void heard(const Answer& answer) override;
    void dropped(const std::filesystem::path& path) override;
    Sheet lay_out() override;

private:
    const Client& client() const { return opened_->file.client; }
    const Plan* plan() const;
    void lay_out_standing(Sheet& sheet);
    void lay_out_goals(Sheet& sheet);
    void add_plan(Sheet& sheet);
    void lay_out_reading(Sheet& sheet);
    void lay_out_session(Sheet& sheet);
    void lay_out_files(Sheet& sheet);
    void lay_out_record(Sheet& sheet);
    void lay_out_removal(Sheet& sheet);
    void open_files(std::optional<std::filesystem::path> file);
    void practise_in_session();
    void start_baseline(StartBaseline::Sounds sounds) { wish(StartBaseline{client(), sounds}); }
    void change(Client changed);
    void rename();
    void ask_before_deleting_client();
    void ask_before_deleting_audio();

    Id id_;
    OpenedClient opened_;
    std::string code_;  // as typed
    std::string fault_;
    bool is_changing_{false};
    bool is_gone_{false};
};

void ClientPage::shown()
{
    if (is_gone_)
        wish(ClosePage{});
    else
        wish(Ask{OpenClient{id_}});
}

void ClientPage::heard(const Answer& answer)
{
    if (const auto* opened = std::get_if<ClientOpened>(&answer);
        opened && opened->file.client.id == id_) {
        opened_ = std::make_shared<const ClientOpened>(*opened);
        code_ = client().code;
    }
    if (const auto* deleted = std::get_if<ClientDeleted>(&answer);
        deleted && deleted->client == id_)
        is_gone_ = true;
    if (const auto* changed = std::get_if<ClientChanged>(&answer);
        changed && changed->client.id == id_) {
        is_changing_ = false;
        wish(Ask{OpenClient{id_}});
    }
    if (const auto* refused = std::get_if<Refused>(&answer); refused && is_changing_) {
        is_changing_ = false;
        fault_ = refused->sentence;
    }
}

void ClientPage::dropped(const std::filesystem::path& path)
{
    if (opened_) open_files(path);
}

const Plan* ClientPage::plan() const
{
    return opened_->file.plans.empty() ? nullptr : &opened_->file.plans.back();
}

void ClientPage::open_files(std::optional<std::filesystem::path> file)
{
    wish(OpenPage{files_page({.side = FilesPageFor::Side::therapist,
                              .client = id_,
                              .code = client().code,
                              .clips = opened_->clips,
                              .lasting = opened_->lasting,
                              .dropped = std::move(file)})});
}

void ClientPage::practise_in_session()
{
    wish(StartPractice{.client = client(), .plan = *plan(), .kind = PracticeKind::in_session});
}

void ClientPage::change(Client changed)
{
    fault_.clear();
    is_changing_ = true;
    wish(Ask{ChangeClient{std::move(changed)}});
}

void ClientPage::rename()
{
    if (code_ == client().code) return;
    Client changed = client();
    changed.code = code_;
    change(std::move(changed));
}

void ClientPage::ask_before_deleting_client()
{
    wish(OpenPage{confirm_page(
        {.title = "Delete " + shortened(client().code, 40),
         .lead = "This cannot be undone.",
         .what_happens = fmt::format(
             "All plans, {}, all trials and all audio of this client are deleted from this "
             "computer and overwritten. Files that were handed over or written as a report are "
             "not touched: delete those where you keep them.",
             counted(static_cast<int>(opened_->file.practices.size()), "practice")),
         .word = client().code,
         .button = "Delete everything of this client",
         .request = DeleteClient{id_}})});
}

void ClientPage::ask_before_deleting_audio()
{
    wish(OpenPage{confirm_page(
        {.title = "Delete the audio of " + shortened(client().code, 40),
         .lead = "This cannot be undone.",
         .what_happens = fmt::format("{} ({}) are deleted and overwritten. What was measured in "
                                     "them stays.",
                                     counted(opened_->clips.count, "recording"),
                                     size_said(opened_->clips.bytes)),
         .word = "audio",
         .button = "Delete the audio",
         .request = DeleteClips{id_}})});
}

void ClientPage::lay_out_standing(Sheet& sheet)
{
    if (const Plan* in_force = plan()) {
        const auto lines = plan_in_two_lines(*in_force);
        sheet.say(fmt::format("Plan in force: {}", in_force->title), lines[0] + "\n" + lines[1]);
    } else {
        sheet.say("No plan yet", "Open the plan and begin from a template.");
    }
    if (!opened_->file.practices.empty()) {
        sheet.add(last_two_weeks(opened_->file, opened_->today));
        sheet.say("Last practice",
                  last_practice_said(opened_->file.practices.back(), opened_->today));
        lay_out_goals(sheet);
    } else {
        sheet.say("No practice yet",
                  "Hand over the plan, practise here in session, or bring in a file that the "
                  "client handed back.");
    }
}

// Those that stand; the others, and setting one, are on a page of their own.
void ClientPage::lay_out_goals(Sheet& sheet)
{
    for (const ClientGoal& goal : opened_->file.goals)
        if (!goal.withdrawn_on)
            sheet.say("A goal", set_goal_said(goal, opened_->file, opened_->today));
}

void ClientPage::add_plan(Sheet& sheet)
{
    sheet.link({.label = "Plan",
                .columns = {plan() ? fmt::format("revision {}", plan()->revision) : "none yet"},
                .meaning = "Every part of it; it is handed over as a file."},
               [this] { wish(OpenPage{plan_page(opened_)}); });
}

void ClientPage::lay_out_reading(Sheet& sheet)
{
    // What comes first is what is to be done first.
    if (!plan()) add_plan(sheet);
    sheet.link({.label = "Progress",
                .columns = {counted(static_cast<int>(opened_->file.practices.size()), "practice")},
                .meaning = "Pictures first, numbers one level down."},
               [this] { wish(OpenPage{therapist_progress_page(opened_)}); });
    if (plan()) add_plan(sheet);
    std::string taper;
    if (plan())
        taper =
            taper_offer_said(taper_advice(*plan(), opened_->file.practices, opened_->today).move);
    sheet.link({.label = "Goals and taper",
                .columns = {plan() && plan()->goal ? "goal " + short_seconds(plan()->goal->hold)
                                                   : "no goal",
                            taper},
                .meaning = "Suggestions with their reasons; only you adopt one."},
               [this] { wish(OpenPage{goal_page(opened_)}); });
    sheet.link({.label = "Report for the chart", .meaning = "One or two pages, as a PDF."},
               [this] { wish(OpenPage{report_page(opened_)}); });
}

void ClientPage::lay_out_session(Sheet& sheet)
{
    sheet.say("Here and now", "");
    if (plan())
        sheet.button({.label = "Practise the plan in session",
                      .meaning = "Kept apart from practice at home in every picture."},
                     [this] { practise_in_session(); });
    sheet.button({.label = "Three quiet /s/",
                  .meaning = "A baseline: the longest of three. Quiet, because a louder /s/ is "
                             "shorter."},
                 [this] { start_baseline(StartBaseline::Sounds::s); });
    sheet.button({.label = "Three quiet /s/, then three /z/",
                  .meaning = "For the s/z ratio, which is shown to you alone."},
                 [this] { start_baseline(StartBaseline::Sounds::s_and_z); });
    sheet.button({.label = "Show what near enough means",
                  .meaning = "The band around a note, to look at and listen to."},
                 [this] { wish(OpenTolerance{}); });
}

void ClientPage::lay_out_files(Sheet& sheet)
{
    sheet.say("From and to home", "");
    sheet.link(
        {.label = "Files", .meaning = "Hand over the plan, bring in practices, write tables."},
        [this] { open_files({}); });
    sheet.link({.label = "Enter a practice by hand",
                .meaning = "One that was noted on paper; it is marked as entered by hand."},
               [this] { wish(OpenPage{hand_entry_page(opened_)}); });
}

void ClientPage::lay_out_record(Sheet& sheet)
{
    sheet.say("The record", onset_labels_said(client()));
    if (!opened_->handed_out.empty())
        sheet.say("Files written", handed_out_said(opened_->handed_out));
    sheet.text(
        {.label = "Code",
         .text = code_,
         .meaning = "What the client is found by, better not a name. Enter keeps it.",
         .fault = fault_},
        [this](const std::string& text) {
            code_ = text;
            fault_.clear();
        },
        [this] { rename(); });
    sheet.value({.label = "Has agreed that audio is kept",
                 .value = client().keeps_audio ? "yes" : "no",
                 .meaning =
                     "The client's own consent. A voice identifies a person: without it, only what "
                     "was measured is kept, whatever the plan says."},
                [this](int) {
                    Client changed = client();
                    changed.keeps_audio = !changed.keeps_audio;
                    change(std::move(changed));
                });
}

void ClientPage::lay_out_removal(Sheet& sheet)
{
    const bool is_active = client().standing == Standing::active;
    sheet.button({.label = is_active ? "Archive" : "Take out of the archive",
                  .meaning = is_active ? "Out of the list, with everything kept."
                                       : "Back into the list of active clients."},
                 [this, is_active] {
                     Client changed = client();
                     changed.standing = is_active ? Standing::archived : Standing::active;
                     change(std::move(changed));
                 });
    if (opened_->clips.count > 0)
        sheet.button(
            {.label = fmt::format("Delete the audio ({})", size_said(opened_->clips.bytes)),
             .meaning = "Asks once more.",
             .does = "ask first"},
            [this] { ask_before_deleting_audio(); });
    sheet.button({.label = "Delete this client",
                  .meaning = "Asks for the code to be typed.",
                  .does = "ask first"},
                 [this] { ask_before_deleting_client(); });
}

Sheet ClientPage::lay_out()
{
    Sheet sheet;
    if (!opened_) return sheet;
    sheet.title = client().code;
    sheet.lead = standing_said(client());
    lay_out_standing(sheet);
    lay_out_reading(sheet);
    lay_out_session(sheet);
    lay_out_files(sheet);
    lay_out_record(sheet);
    lay_out_removal(sheet);
    sheet.key({"G", "progress", 'G'}, [this] { wish(OpenPage{therapist_progress_page(opened_)}); });
    sheet.key({"P", "plan", 'P'}, [this] { wish(OpenPage{plan_page(opened_)}); });
    sheet.key({"F", "files", 'F'}, [this] { open_files({}); });
    sheet.key({"R", "report", 'R'}, [this] { wish(OpenPage{report_page(opened_)}); });
    return sheet;
}

}  // namespace

std::unique_ptr<Page> client_page(const Id& client) { return make_page<ClientPage>(client); }

}  // namespace holdwell
