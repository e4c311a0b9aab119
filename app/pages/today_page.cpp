// The first page: what is for today, and one key to begin.

#include <algorithm>

#include <fmt/format.h>

#include "app/pages/client_blocks.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"
#include "app/practice/drill_words.h"
#include "app/practice/progress.h"

namespace holdwell {
namespace {

// What today asks of her.
struct Standing {
    int done{0};
    int asked{0};  // today
    int most{2};   // a day
    bool is_first_ever{false};
    bool said_no{false};  // an answer beforehand spoke against it
};

int asked_on(const ClientReading& reading, Date today)
{
    const auto found = std::ranges::find(reading.days, today, &AdherenceDay::day);
    return found == reading.days.end() ? 0 : found->of.asked;
}

bool said_no_on(const std::vector<Practice>& practices, Date today)
{
    return std::ranges::any_of(practices, [today](const Practice& p) {
        return p.begun.date == today && p.completion == Completion::not_today;
    });
}

std::string lead_of(const Standing& standing)
{
    if (standing.done >= standing.most) return "That is enough for today. Let your voice rest.";
    if (standing.done >= standing.asked && standing.done > 0) {
        return standing.asked > 1 ? "Today is done. One more only if your voice feels easy."
                                  : "Today is done.";
    }
    if (standing.said_no) return "You said earlier that today is not a day to practise.";
    if (standing.asked == 0) return "Nothing is asked for today. You may practise all the same.";
    if (standing.asked == 1) return "One practice.";
    return fmt::format("{} of {} practices.", capitalised(ordinal_in_words(standing.done + 1)),
                       count_in_words(standing.asked));
}

bool is_sung(const Practice& open)
{
    return open.trials_asked > 0 && static_cast<int>(open.trials.size()) >= open.trials_asked;
}

std::string lead_of(const Practice& open)
{
    if (is_sung(open)) return "You sang it all. Two questions are left, then it is done.";
    return "You stopped part of the way. Would you like to go on?";
}

std::string goal_sentence(const Plan& plan)
{
    if (!plan.goal) return "Hold each note for as long as the breath is easy.";
    return fmt::format("Your goal: each note for {}, softly.", seconds_in_words(plan.goal->hold));
}

const char* notes_said(VoiceSet set)
{
    return set == VoiceSet::lower ? "for a lower voice: F3, C3 to G3"
                                  : "for a higher voice: F4, C4 to G4";
}

class TodayPage final : public RowPage {
protected:
    void shown() override { wish(Ask{LoadHome{}}); }
    void heard(const Answer& answer) override;
    void dropped(const std::filesystem::path& path) override;
    void go_back() override { wish(LeaveProgram{}); }
    std::string escape_does() const override { return "leave"; }
    Sheet lay_out() override;

private:
    Plan plan() const;
    Standing standing() const;
    void lay_out_practice(Sheet& sheet, const Standing& standing);
    void lay_out_first_time(Sheet& sheet);
    void lay_out_week(Sheet& sheet);
    void lay_out_links(Sheet& sheet);
    void choose_notes();
    void begin();
    void ask_beforehand(const Plan& plan);
    void go_on();
    void open_progress() { wish(OpenPage{client_progress_page(home_->file.client.id)}); }
    void open_files();

    std::optional<HomeLoaded> home_;
    std::optional<VoiceSet> notes_;  // chosen here, before the first practice
    bool begins_with_new_notes_{false};
    std::string trouble_;
};

void TodayPage::heard(const Answer& answer)
{
    if (const auto* home = std::get_if<HomeLoaded>(&answer)) home_ = *home;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        if (begins_with_new_notes_ || !home_) trouble_ = refused->sentence;
        begins_with_new_notes_ = false;
    }
    if (const auto* saved = std::get_if<PlanSaved>(&answer); saved && begins_with_new_notes_) {
        begins_with_new_notes_ = false;
        notes_.reset();
        ask_beforehand(saved->plan);
    }
}

void TodayPage::dropped(const std::filesystem::path& path)
{
    if (!home_) return;
    const Client& client = home_->file.client;
    wish(OpenPage{files_page({.side = FilesPageFor::Side::client,
                              .client = client.id,
                              .code = client.code,
                              .clips = home_->clips,
                              .lasting = home_->lasting,
                              .dropped = path})});
}

Plan TodayPage::plan() const
{
    return home_->file.plans.empty() ? Plan{} : home_->file.plans.back();
}

Standing TodayPage::standing() const
{
    const std::vector<Practice>& practices = home_->file.practices;
    return {.done = practices_on(practices, home_->today),
            .asked = asked_on(client_reading(home_->file, home_->today), home_->today),
            .most = plan().most_practices_a_day,
            .is_first_ever = std::ranges::none_of(
                practices, [](const Practice& p) { return !p.trials.empty(); }),
            .said_no = said_no_on(practices, home_->today)};
}

Sheet TodayPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Today";
    sheet.notice = trouble_;
    if (!home_) {
        sheet.lead = "One moment\u2026";
        return sheet;
    }
    const Standing now = standing();
    sheet.lead = home_->unfinished ? lead_of(*home_->unfinished) : lead_of(now);
    if (sheet.notice.empty()) sheet.notice = home_->notice;
    if (sheet.notice.empty() && home_->lasting == Lasting::until_closed)
        sheet.notice = "An example to look around in: nothing of it is kept.";
    lay_out_practice(sheet, now);
    if (now.is_first_ever && !home_->unfinished) lay_out_first_time(sheet);
    const Plan in_force = plan();
    if (!in_force.words_for_client.empty())
        sheet.say("From your therapist", in_force.words_for_client);
    if (!now.is_first_ever) sheet.say("", goal_sentence(in_force));
    lay_out_week(sheet);
    lay_out_links(sheet);
    return sheet;
}

void TodayPage::lay_out_practice(Sheet& sheet, const Standing& now)
{
    if (home_->unfinished) {
        const Practice& open = *home_->unfinished;
        sheet.button({.label = is_sung(open) ? "Answer the two questions" : "Go on where you were",
                      .meaning = fmt::format("{} of {} are done and kept.", open.trials.size(),
                                             open.trials_asked),
                      .does = is_sung(open) ? "answer" : "go on",
                      .size = RowBlock::Size::large},
                     [this] { go_on(); });
        sheet.button({.label = "Begin a new practice",
                      .meaning = "What you did before stays kept.",
                      .does = "begin"},
                     [this] { begin(); });
        return;
    }
    if (now.done >= now.most) {
        sheet.button(
            {.label = "Look at your progress", .does = "look", .size = RowBlock::Size::large},
            [this] { open_progress(); });
        sheet.button({.label = "Practise all the same",
                      .meaning = "Your plan advises against more than this in a day.",
                      .does = "begin"},
                     [this] { begin(); });
        return;
    }
    sheet.button({.label = "Begin the practice",
                  .meaning = "Hands free: it hears you begin and end, and moves on by itself.",
                  .does = "begin",
                  .size = RowBlock::Size::large},
                 [this] { begin(); });
}

void TodayPage::lay_out_first_time(Sheet& sheet)
{
    const VoiceSet set = notes_.value_or(plan().voice.set);
    if (set != VoiceSet::own) {
        sheet.value({.label = "Notes",
                     .value = notes_said(set),
                     .meaning = "Left and right change it. Your therapist may choose others."},
                    [this](int) { choose_notes(); });
    }
    sheet.say("How it goes",
              "Each note is played; then you sing it softly, for as long as the breath is easy. "
              "The clock starts and stops by itself. Space pauses at any time.");
}

void TodayPage::lay_out_week(Sheet& sheet)
{
    const ClientReading reading = client_reading(home_->file, home_->today);
    if (const auto advice = advice_on_days(home_->file.practices, home_->today)) {
        sheet.say(advice->title, paragraph_of(*advice));
    }
    if (!reading.days.empty()) sheet.add(week_block(reading, home_->today));
}

void TodayPage::lay_out_links(Sheet& sheet)
{
    sheet.link({.label = "Your progress"}, [this] { open_progress(); });
    sheet.link({.label = "One drill, freely chosen"}, [this] { wish(OpenPracticeRoom{}); });
    sheet.link({.label = "Files: to and from your therapist"}, [this] { open_files(); });
    sheet.link({.label = "Cautions and help"}, [this] { wish(OpenCautions{}); });
    sheet.link({.label = "What is kept about you"}, [this] { wish(OpenPage{privacy_page()}); });
    sheet.link({.label = "The therapist's desk"}, [this] { wish(OpenPage{roster_page()}); });
    sheet.key({"P", "progress", 'P'}, [this] { open_progress(); });
    sheet.key({"R", "one drill", 'R'}, [this] { wish(OpenPracticeRoom{}); });
    sheet.key({"F", "files", 'F'}, [this] { open_files(); });
    sheet.key({"H", "cautions", 'H'}, [this] { wish(OpenCautions{}); });
    sheet.key({"T", "therapist", 'T'}, [this] { wish(OpenPage{roster_page()}); });
}

void TodayPage::choose_notes()
{
    const VoiceSet now = notes_.value_or(plan().voice.set);
    notes_ = now == VoiceSet::lower ? VoiceSet::higher : VoiceSet::lower;
}

void TodayPage::begin()
{
    trouble_.clear();
    Plan in_force = plan();
    if (!notes_ || *notes_ == in_force.voice.set) return ask_beforehand(in_force);
    in_force.voice = notes_of(*notes_);
    begins_with_new_notes_ = true;
    wish(Ask{SavePlan{home_->file.client.id, in_force}});
}

void TodayPage::ask_beforehand(const Plan& in_force)
{
    wish(OpenPage{before_practice_page(
        {.client = home_->file.client, .plan = in_force, .already = std::nullopt})});
}

// The questions were answered today already.
void TodayPage::go_on()
{
    const Practice& open = *home_->unfinished;
    const auto& plans = home_->file.plans;
    const auto of_then = std::ranges::find_if(plans, [&open](const Plan& p) {
        return p.id == open.plan && p.revision == open.plan_revision;
    });
    wish(StartPractice{.client = home_->file.client,
                       .plan = of_then == plans.end() ? plan() : *of_then,
                       .kind = open.kind,
                       .before = open.before,
                       .already = open});
}

void TodayPage::open_files()
{
    const Client& client = home_->file.client;
    wish(OpenPage{files_page({.side = FilesPageFor::Side::client,
                              .client = client.id,
                              .code = client.code,
                              .clips = home_->clips,
                              .lasting = home_->lasting})});
}

}  // namespace

std::unique_ptr<Page> today_page() { return make_page<TodayPage>(); }

}  // namespace holdwell
