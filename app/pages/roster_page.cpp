#include <algorithm>
#include <functional>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/roster.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

// More would not be read; typing part of a code narrows them down.
constexpr std::size_t kMostShown = 100;
constexpr std::size_t kCodeLetters = 24;
constexpr int kShows = 5;
constexpr int kOrders = 4;

class RosterPage final : public RowPage {
protected:
    void shown() override { wish(Ask{ListClients{}}); }
    void heard(const Answer& answer) override;
    void dropped(const std::filesystem::path& path) override;
    Sheet lay_out() override;

private:
    void lay_out_choices(Sheet& sheet);
    void lay_out_list(Sheet& sheet);
    void open(const Id& client) { wish(OpenPage{client_page(client)}); }
    void open_first();
    void add_client();

    std::vector<RosterLine> lines_;
    Date today_{};
    bool is_loaded_{false};
    RosterChoice choice_;
    std::string new_code_;
    std::string add_fault_;
    bool is_adding_{false};
    std::optional<std::string> added_;  // the code of who was added last, until it is listed
};

void RosterPage::heard(const Answer& answer)
{
    if (const auto* listed = std::get_if<ClientsListed>(&answer)) {
        // From the start the focus is where a code is typed to be found.
        if (!is_loaded_) focus_first();
        lines_ = listed->lines;
        today_ = listed->today;
        is_loaded_ = true;
        // Back from who was added, the focus is on that line and not where codes are typed.
        if (added_) focus_on(shortened_inside(*std::exchange(added_, std::nullopt), kCodeLetters));
    }
    if (!is_adding_) return;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_adding_ = false;
        add_fault_ = refused->sentence;
    }
    if (const auto* added = std::get_if<ClientAdded>(&answer)) {
        is_adding_ = false;
        new_code_.clear();
        added_ = added->client.code;
        open(added->client.id);
    }
}

void RosterPage::dropped(const std::filesystem::path& path)
{
    wish(OpenPage{files_page({.side = FilesPageFor::Side::therapist, .dropped = path})});
}

void RosterPage::add_client()
{
    if (new_code_.empty()) {
        add_fault_ = "Type a code first: one to forty letters or digits that say no name.";
        return;
    }
    is_adding_ = true;
    add_fault_.clear();
    wish(Ask{AddClient{new_code_}});
}

void RosterPage::open_first()
{
    const auto shown = roster_shown(lines_, choice_);
    if (!shown.empty()) open(shown.front().client);
}

template <typename Choice>
Choice stepped(Choice now, int by, int choices)
{
    return static_cast<Choice>((static_cast<int>(now) + by + choices) % choices);
}

void RosterPage::lay_out_choices(Sheet& sheet)
{
    if (!lines_.empty()) {
        const bool finds = !roster_shown(lines_, choice_).empty();
        sheet.text(
            {.label = "Find",
             .text = choice_.find,
             .meaning = finds ? "Type part of a code. Enter opens the first one found."
                              : "Nobody is found by this. The key above Enter takes letters back.",
             .does = "open the first"},
            [this](const std::string& text) { choice_.find = text; },
            finds ? std::function<void()>{[this] { open_first(); }} : nullptr);
    }
    sheet.text(
        {.label = "Add a client",
         .text = new_code_,
         .meaning = "Type a code of your own, better not a name, and press Enter.",
         .fault = add_fault_,
         .does = "add"},
        [this](const std::string& text) {
            new_code_ = text;
            add_fault_.clear();
        },
        [this] { add_client(); });
    if (lines_.empty()) return;
    sheet.value(
        {.label = "Show",
         .value = fmt::format("{} ({})", show_said(choice_.show), count_of(lines_, choice_.show)),
         .meaning = "Who needs a look: no practice in seven days, near the goal, or "
                    "discomfort reported in these days."},
        [this](int by) { choice_.show = stepped(choice_.show, by, kShows); });
    sheet.value({.label = "Order", .value = order_said(choice_.order)},
                [this](int by) { choice_.order = stepped(choice_.order, by, kOrders); });
}

std::string practices_said(const RosterLine& line)
{
    if (line.asked_a_week == 0) return std::to_string(line.practices_this_week);
    return fmt::format("{} of {}", line.practices_this_week, line.asked_a_week);
}

void RosterPage::lay_out_list(Sheet& sheet)
{
    const auto shown = roster_shown(lines_, choice_);
    if (shown.empty()) {
        sheet.say("Nobody to show", choice_.find.empty()
                                        ? "No client is " + show_said(choice_.show) + "."
                                        : "No code among them holds what was typed.");
        return;
    }
    sheet.add(
        ColumnHeadBlock{{"Client", "Last practice", "Last 7 days", "Of the goal", "To look at"}});
    for (const RosterLine& line : std::span{shown}.first(std::min(shown.size(), kMostShown))) {
        sheet.link(
            {.label = shortened_inside(line.code, kCodeLetters),
             .columns = {line.last_practice ? days_ago_in_words(*line.last_practice, today_)
                                            : "none yet",
                         practices_said(line),
                         line.goal_share ? percent_said(*line.goal_share) : "–", marks_said(line)}},
            [this, id = line.client] { open(id); });
    }
    if (shown.size() > kMostShown)
        sheet.say("",
                  fmt::format("{} more: type part of a code to narrow them down.",
                              shown.size() - kMostShown),
                  TextBlock::Weight::quiet);
}

Sheet RosterPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Clients";
    if (is_loaded_ && lines_.empty())
        sheet.lead = "Nobody is here yet. Add the first client with a code of your own, or bring "
                     "in a practice file that a client handed you.";
    else if (is_loaded_)
        sheet.lead = roster_summary(lines_);
    lay_out_choices(sheet);
    sheet.link({.label = "Bring in a file",
                .meaning = "Practices that a client handed back, or a plan. You can also drop the "
                           "file onto this window."},
               [this] { wish(OpenPage{files_page({.side = FilesPageFor::Side::therapist})}); });
    if (!lines_.empty()) lay_out_list(sheet);
    sheet.key({"P", "privacy", 'P'}, [this] { wish(OpenPage{privacy_page()}); });
    sheet.key({"H", "cautions", 'H'}, [this] { wish(OpenCautions{}); });
    return sheet;
}

}  // namespace

std::unique_ptr<Page> roster_page() { return make_page<RosterPage>(); }

}  // namespace holdwell
