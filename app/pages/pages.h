#pragma once
// Every page, by the function that makes it. What a page is made from is what it cannot ask for
// itself; the rest it asks of the records when it is opened.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/pages/page.h"

namespace holdwell {

// One client's records as last opened; shared, because three years of practice are large.
using OpenedClient = std::shared_ptr<const ClientOpened>;

// ---- the client's own -----------------------------------------------------------------------

// The first page: what is for today, and one key to begin.
std::unique_ptr<Page> today_page();
// Four questions before a practice; any yes: no drills today.
struct BeforePracticeFor {
    Client client;
    Plan plan;
    PracticeKind kind{PracticeKind::at_home};
    std::optional<Practice> already{};  // to be gone on with
};
std::unique_ptr<Page> before_practice_page(BeforePracticeFor setup);
// Two ratings and a remark; closes the practice, then shows what it came to.
struct AfterPracticeFor {
    Client client;
    Plan plan;
    Practice practice;  // as begun, with its completion so far, its trials and sound check
};
std::unique_ptr<Page> after_practice_page(AfterPracticeFor setup);
// What a practice came to, in words, on one page.
std::unique_ptr<Page> summary_page(const Id& client, const Practice& practice);
// Calm: this week, each note against its goal, range and breaks.
std::unique_ptr<Page> client_progress_page(const Id& client);

// ---- the therapist's desk -------------------------------------------------------------------

// All clients: find, add, and who needs a look.
std::unique_ptr<Page> roster_page();
// One client: where she stands, and everything that can be done for her.
std::unique_ptr<Page> client_page(const Id& client);
// Every field of the plan, templates to begin from, and what changes for the client.
std::unique_ptr<Page> plan_page(const OpenedClient& opened);
// Pictures first; each opens its table of numbers.
std::unique_ptr<Page> therapist_progress_page(const OpenedClient& opened);
// Goals with their reasoning, the taper's next step, and a goal sentence for the chart.
std::unique_ptr<Page> goal_page(const OpenedClient& opened);
// A goal that can be measured, in one sentence for the chart, and how the record stands to it.
std::unique_ptr<Page> goal_sentence_page(const OpenedClient& opened);
// The PDF for the chart, with such a goal on it if one is given.
std::unique_ptr<Page> report_page(const OpenedClient& opened,
                                  std::optional<MeasurableGoal> goal = {});
// A practice that was noted on paper.
std::unique_ptr<Page> hand_entry_page(const OpenedClient& opened);

// ---- for both -------------------------------------------------------------------------------

// Who hands what to whom: a client her practices, a therapist the plan.
struct FilesPageFor {
    enum class Side { client, therapist } side{Side::client};
    Id client{};                                     // empty: only bringing in
    std::string code{};                              // the client's
    ClipsHeld clips{};                               // could go along
    Lasting lasting{Lasting::kept};                  // of what is written
    std::optional<std::filesystem::path> dropped{};  // its preview is asked for at once
};
std::unique_ptr<Page> files_page(FilesPageFor setup);
// What is stored where, and how to delete it.
std::unique_ptr<Page> privacy_page();

}  // namespace holdwell
