// The client's own pages, opened on the same records.

#include "app/pages/pages.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

namespace holdwell::test {
namespace {

using Made = std::unique_ptr<Page>;

HomeLoaded home_with(const OpenedClient& opened)
{
    HomeLoaded home;
    home.file = opened->file;
    if (home.file.plans.empty()) home.file.plans.emplace_back();
    home.today = kDeskToday;
    home.clips = opened->clips;
    return home;
}

Made today(const HomeLoaded& home)
{
    Made page = today_page();
    page->opened();
    page->hear(home);
    page->take_wishes();
    return page;
}

// Half of the last practice done, and the program closed within it.
HomeLoaded interrupted()
{
    HomeLoaded home = home_with(eight_weeks());
    Practice half = home.file.practices.back();
    half.begun.date = kDeskToday;
    half.completion = Completion::under_way;
    half.trials.resize(half.trials.size() / 2);
    home.unfinished = half;
    return home;
}

HomeLoaded on_a_full_disk()
{
    HomeLoaded home = home_with(nothing_yet());
    home.notice =
        "The disk is full, so that what you practise is kept in memory for now. Free some "
        "space, and it is saved by itself.";
    return home;
}

Made before(PressKey::Key then)
{
    const OpenedClient opened = eight_weeks();
    Made page = before_practice_page({.client = opened->file.client,
                                      .plan = opened->file.plans.back(),
                                      .already = std::nullopt});
    page->opened();
    press(*page, PressKey::Key::down);
    press(*page, then);
    return page;
}

Made after(int discomfort)
{
    const OpenedClient opened = eight_weeks();
    Practice practice = opened->file.practices.back();
    practice.completion = Completion::complete;
    Made page = after_practice_page(
        {.client = opened->file.client, .plan = opened->file.plans.back(), .practice = practice});
    page->opened();
    press(*page, PressKey::Key::right, 4);
    press(*page, PressKey::Key::down);
    press(*page, PressKey::Key::right, discomfort + 1);
    return page;
}

Made told(Made page, const OpenedClient& opened)
{
    page->opened();
    page->hear(*opened);
    page->take_wishes();
    return page;
}

Made summary(const OpenedClient& opened)
{
    return told(summary_page(opened->file.client.id, opened->file.practices.back()), opened);
}

Made progress(const OpenedClient& opened)
{
    return told(client_progress_page(opened->file.client.id), opened);
}

}  // namespace

std::vector<PageCase> client_pages()
{
    using Key = PressKey::Key;
    return {{"today", [] { return today(home_with(eight_weeks())); }},
            {"today-first", [] { return today(home_with(nothing_yet())); }},
            {"today-extreme", [] { return today(home_with(three_years())); }},
            {"today-interrupted", [] { return today(interrupted()); }},
            {"today-full-disk", [] { return today(on_a_full_disk()); }},
            {"before", [] { return before(Key::up); }},
            {"before-pain", [] { return before(Key::right); }},
            {"after", [] { return after(0); }},
            {"after-discomfort", [] { return after(6); }},
            {"summary", [] { return summary(eight_weeks()); }},
            {"summary-extreme", [] { return summary(three_years()); }},
            {"progress", [] { return progress(eight_weeks()); }},
            {"progress-empty", [] { return progress(nothing_yet()); }},
            {"progress-extreme", [] { return progress(three_years()); }}};
}

}  // namespace holdwell::test
