#include "tests/support/desk/desk_pages.h"

#include "app/pages/confirm_page.h"
#include "app/pages/hand_over_page.h"
#include "app/pages/import_page.h"
#include "tests/support/desk/desk_cases.h"

namespace holdwell::test {
namespace {

using Made = std::unique_ptr<Page>;
using MakeOpened = OpenedClient (*)();

Made answered(Made page, std::vector<Answer> answers)
{
    page->opened();
    page->take_wishes();
    for (const Answer& answer : answers) page->hear(answer);
    page->take_wishes();
    return page;
}

Made roster(std::vector<RosterLine> lines)
{
    ClientsListed listed;
    listed.lines = std::move(lines);
    listed.today = kDeskToday;
    return answered(roster_page(), {listed});
}

Made client(const OpenedClient& opened)
{
    return answered(client_page(opened->file.client.id), {*opened});
}

FilesPageFor files_for(FilesPageFor::Side side)
{
    const OpenedClient opened = eight_weeks();
    return {.side = side,
            .client = opened->file.client.id,
            .code = opened->file.client.code,
            .clips = opened->clips};
}

Made files(FilesPageFor::Side side)
{
    FilesFound found;
    found.files = {{"/home/desk/Downloads/holdwell-C-104-2026-04-26.json", "practices, 26 April"},
                   {"/home/desk/Documents/holdwell-plan-C-104.json", "plan, 2 March"}};
    return answered(files_page(files_for(side)), {found});
}

Written written_file()
{
    Written written;
    written.path = "/home/desk/Documents/holdwell-C-104-2026-04-26.json";
    written.holds = "2 plans, 107 practices and 1 566 trials of C-104, with dates and no audio.";
    return written;
}

Made handed_over()
{
    Made page = hand_over_page(HandOver::practices, files_for(FilesPageFor::Side::client));
    press(*page, PressKey::Key::proceed);
    return answered(std::move(page), {written_file()});
}

ImportPreviewed previewed()
{
    ImportPreviewed previewed;
    previewed.client_code = "at home";
    previewed.client_is_new = true;
    previewed.new_practices = 14;
    previewed.new_trials = 224;
    previewed.already_here = 93;
    previewed.conflicts = {"The practice of 3 April differs from the one that is here: both are "
                           "kept."};
    return previewed;
}

Made import_with(const Answer& answer)
{
    return answered(import_page("/home/desk/Downloads/holdwell-C-104-2026-04-26.json",
                                files_for(FilesPageFor::Side::therapist)),
                    {answer});
}

Refused sealed()
{
    Refused refused;
    refused.sentence = "This file is sealed with a passphrase.";
    refused.wants_passphrase = true;
    return refused;
}

Made privacy(const OpenedClient& opened)
{
    HomeLoaded home;
    home.file = opened->file;
    home.clips = opened->clips;
    home.today = opened->today;
    home.folder = "/home/anybody/.local/share/holdwell";
    home.bytes = 52'400'000;
    ClientsListed listed;
    listed.lines = twelve_clients();
    return answered(privacy_page(), {home, listed});
}

Made plan_part(const std::string& label)
{
    Made page = plan_page(three_years());
    do_at(*page, label);
    TemplatesListed listed;
    listed.plans = some_templates();
    return answered(std::move(page), {listed});
}

Made changed_plan()
{
    Made page = plan_page(eight_weeks());
    go_to(*page, "Practices a day");
    press(*page, PressKey::Key::right);
    go_to(*page, "Near enough");
    press(*page, PressKey::Key::left, 3);
    go_to(*page, "Save");
    return page;
}

Made numbers(const OpenedClient& opened)
{
    Made page = therapist_progress_page(opened);
    for (const std::string& label : labels_of(*page)) {
        if (!label.starts_with("Numbers: Warm-up")) continue;
        do_at(*page, label);
        for (OpenPage& open : wishes_of<OpenPage>(*page)) return std::move(open.page);
    }
    return page;
}

Made goals_with_figures()
{
    Made page = goal_page(eight_weeks());
    go_to(*page, "Volume in mL");
    type(*page, "3500");
    go_to(*page, "Seconds");
    type(*page, "20");
    return page;
}

Made confirm()
{
    Made page = client(eight_weeks());
    do_at(*page, "Delete this client");
    for (OpenPage& open : wishes_of<OpenPage>(*page)) return std::move(open.page);
    return page;
}

void add_by_record(std::vector<PageCase>& cases, const std::string& name,
                   std::function<Made(const OpenedClient&)> make)
{
    const std::pair<const char*, MakeOpened> records[] = {
        {"", eight_weeks}, {"-empty", nothing_yet}, {"-extreme", three_years}};
    for (const auto& [suffix, record] : records)
        cases.push_back({name + suffix, [make, record = record] { return make(record()); }});
}

}  // namespace

std::vector<PageCase> desk_pages()
{
    std::vector<PageCase> cases{
        {"roster", [] { return roster(twelve_clients()); }},
        {"roster-empty", [] { return roster({}); }},
        {"roster-extreme", [] { return roster(a_thousand_clients()); }},
        {"plan-changed", changed_plan},
        {"plan-drills", [] { return plan_part("Drills"); }},
        {"plan-taper", [] { return plan_part("Steps of the taper"); }},
        {"plan-models", [] { return plan_part("Your voice as the model"); }},
        {"plan-templates", [] { return plan_part("Begin from a template"); }},
        {"numbers", [] { return numbers(eight_weeks()); }},
        {"numbers-extreme", [] { return numbers(three_years()); }},
        {"goals-typed", goals_with_figures},
        {"files-client", [] { return files(FilesPageFor::Side::client); }},
        {"files-therapist", [] { return files(FilesPageFor::Side::therapist); }},
        {"hand-over",
         [] { return hand_over_page(HandOver::practices, files_for(FilesPageFor::Side::client)); }},
        {"hand-over-done", handed_over},
        {"bring-in", [] { return import_with(previewed()); }},
        {"bring-in-sealed", [] { return import_with(sealed()); }},
        {"delete", confirm},
    };
    add_by_record(cases, "client", client);
    add_by_record(cases, "plan", [](const OpenedClient& o) { return plan_page(o); });
    add_by_record(cases, "progress",
                  [](const OpenedClient& o) { return therapist_progress_page(o); });
    add_by_record(cases, "goals", [](const OpenedClient& o) { return goal_page(o); });
    add_by_record(cases, "goal-sentence",
                  [](const OpenedClient& o) { return goal_sentence_page(o); });
    add_by_record(cases, "report", [](const OpenedClient& o) { return report_page(o); });
    add_by_record(cases, "by-hand", [](const OpenedClient& o) { return hand_entry_page(o); });
    add_by_record(cases, "privacy", privacy);
    return cases;
}

}  // namespace holdwell::test
