#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/day_text.h"

namespace holdwell {
namespace {

// Beginnings of the period that are offered before a day is typed.
enum class Since { first_practice, plan_in_force, four_weeks, two_weeks };
constexpr int kSinces = 4;

class ReportPage final : public RowPage {
public:
    ReportPage(OpenedClient opened, std::optional<MeasurableGoal> goal)
        : opened_{std::move(opened)}, goal_{std::move(goal)}
    {
    }

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    const ClientFile& file() const { return opened_->file; }
    std::optional<Date> first_day() const;
    std::string since_said() const;
    void write();
    void lay_out_choices(Sheet& sheet);
    void lay_out_written(Sheet& sheet);

    OpenedClient opened_;
    std::optional<MeasurableGoal> goal_;
    Since since_{Since::first_practice};
    DateForm dates_{DateForm::dates};
    Paper paper_{Paper::a4};
    std::string name_;
    std::string fault_;
    std::optional<Written> written_;
    bool is_waiting_{false};
};

std::optional<Date> ReportPage::first_day() const
{
    const auto weeks_back = [this](int weeks) {
        return day_after(opened_->today, -std::chrono::days{7 * weeks - 1});
    };
    switch (since_) {
    case Since::first_practice:
        return {};
    case Since::plan_in_force:
        if (file().plans.empty()) return {};
        return file().plans.back().written;
    case Since::four_weeks:
        return weeks_back(4);
    case Since::two_weeks:
        return weeks_back(2);
    }
    return {};
}

std::string ReportPage::since_said() const
{
    switch (since_) {
    case Since::first_practice: {
        const auto first = first_day_of(file());
        return first ? "the first practice, " + day_in_words(*first) : "the first practice";
    }
    case Since::plan_in_force:
        return first_day() ? "the plan in force, " + day_in_words(*first_day())
                           : "the plan in force";
    case Since::four_weeks:
        return "four weeks ago, " + day_in_words(*first_day());
    case Since::two_weeks:
        return "two weeks ago, " + day_in_words(*first_day());
    }
    return {};
}

void ReportPage::write()
{
    if (is_waiting_) return;
    is_waiting_ = true;
    fault_.clear();
    wish(Ask{WriteReport{.client = file().client.id,
                         .from = first_day(),
                         .dates = dates_,
                         .name = name_,
                         .paper = paper_,
                         .measurable = goal_}});
}

void ReportPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (const auto* written = std::get_if<Written>(&answer)) {
        is_waiting_ = false;
        written_ = *written;
    }
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        fault_ = refused->sentence;
    }
}

void ReportPage::lay_out_choices(Sheet& sheet)
{
    sheet.value({.label = "From", .value = since_said()}, [this](int by) {
        since_ = static_cast<Since>((static_cast<int>(since_) + by + kSinces) % kSinces);
    });
    sheet.text({.label = "Name on it",
                .text = name_,
                .meaning = "Left empty, the report carries the code alone. A name typed here goes "
                           "into the report and is not kept."},
               [this](const std::string& text) { name_ = text; });
    sheet.value({.label = "Days",
                 .value = dates_ == DateForm::dates ? "as dates" : "as day numbers",
                 .meaning = "Dates can identify a person. Day 1 is the first practice."},
                [this](int) {
                    dates_ = dates_ == DateForm::dates ? DateForm::day_numbers : DateForm::dates;
                });
    sheet.value({.label = "Paper", .value = paper_ == Paper::a4 ? "A4" : "US Letter"},
                [this](int) { paper_ = paper_ == Paper::a4 ? Paper::letter : Paper::a4; });
}

void ReportPage::lay_out_written(Sheet& sheet)
{
    sheet.say("Written", written_->path.string());
    sheet.say("What is in it", written_->holds);
    if (opened_->lasting == Lasting::until_closed)
        sheet.say("For now", gone_when_closed_said(opened_->lasting));
    sheet.button({.label = "Done", .does = "go back"}, [this] { wish(ClosePage{}); });
    sheet.button({.label = "Copy where it is", .meaning = "Its path, to the clipboard."},
                 [this] { wish(CopyText{written_->path.string()}); });
    sheet.button({.label = "Write another"}, [this] { written_.reset(); });
}

Sheet ReportPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Report for the chart";
    sheet.lead = shortened(file().client.code, 40);
    if (written_) {
        lay_out_written(sheet);
        return sheet;
    }
    sheet.say("What will be in it",
              "Adherence, each drill against its goal, onsets, glides, s/z, self-ratings, and a "
              "paragraph of plain findings; one or two pages. Assessment and plan are left for "
              "you to write.");
    sheet.button({.label = is_waiting_ ? "Writing …" : "Write the report",
                  .meaning = fmt::format("A PDF, into {}; nothing there is written over.",
                                         usual_folder_said(opened_->lasting)),
                  .does = "write it"},
                 [this] { write(); });
    lay_out_choices(sheet);
    if (goal_) sheet.say("With this goal", sentence_of(*goal_, file().client.code));
    if (file().practices.empty())
        sheet.say("", "There is no practice yet: the report will say so.",
                  TextBlock::Weight::quiet);
    sheet.notice = fault_;
    return sheet;
}

}  // namespace

std::unique_ptr<Page> report_page(const OpenedClient& opened, std::optional<MeasurableGoal> goal)
{
    return make_page<ReportPage>(opened, std::move(goal));
}

}  // namespace holdwell
