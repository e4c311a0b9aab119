#include "app/pages/hand_over_page.h"

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/passphrase.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

class HandOverPage final : public RowPage {
public:
    HandOverPage(HandOver what, const FilesPageFor& whose) : what_{what}, whose_{whose} {}

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    std::string title() const;
    std::string what_it_will_hold() const;
    Request request() const;
    void write();
    void lay_out_contents(Sheet& sheet);
    void lay_out_passphrase(Sheet& sheet);
    void lay_out_written(Sheet& sheet);

    HandOver what_;
    FilesPageFor whose_;
    DateForm dates_{DateForm::dates};
    ClipsInExport clips_{ClipsInExport::left_out};
    Passphrase passphrase_;
    std::string fault_;
    std::optional<Written> written_;
    bool is_waiting_{false};
};

std::string HandOverPage::title() const
{
    switch (what_) {
    case HandOver::plan:
        return "Hand over the plan";
    case HandOver::practices:
        return whose_.side == FilesPageFor::Side::client ? "Hand back your practices"
                                                         : "Write everything of this client";
    case HandOver::table:
        return "Write a table of all trials";
    }
    return {};
}

std::string HandOverPage::what_it_will_hold() const
{
    const std::string days = dates_ == DateForm::dates
                                 ? "with the date of each"
                                 : "with days counted from the first practice and no dates";
    switch (what_) {
    case HandOver::plan:
        return "The plan in force, with your own voice where you recorded it as a model. No "
               "practice and no measure is in it.";
    case HandOver::practices:
        return fmt::format("The code, every plan, and every practice with its measures, ratings "
                           "and remarks, {}. {}",
                           days,
                           clips_ == ClipsInExport::included
                               ? fmt::format("The audio kept ({}) goes with it: a voice identifies "
                                             "a person.",
                                             size_said(whose_.clips.bytes))
                               : "No audio is in it.");
    case HandOver::table:
        return fmt::format("One line for each trial, {}, as a CSV file that spreadsheets open. It "
                           "cannot be sealed with a passphrase.",
                           days);
    }
    return {};
}

Request HandOverPage::request() const
{
    switch (what_) {
    case HandOver::plan:
        return ExportPlan{.client = whose_.client, .passphrase = passphrase_.first};
    case HandOver::practices:
        return ExportPractices{.client = whose_.client,
                               .passphrase = passphrase_.first,
                               .dates = dates_,
                               .clips = clips_};
    case HandOver::table:
        return WriteTable{.client = whose_.client, .dates = dates_};
    }
    return {};
}

void HandOverPage::write()
{
    if (is_waiting_) return;
    fault_ = fault_of(passphrase_);
    if (!fault_.empty()) return;
    is_waiting_ = true;
    wish(Ask{request()});
}

void HandOverPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (const auto* written = std::get_if<Written>(&answer)) {
        is_waiting_ = false;
        written_ = *written;
        passphrase_ = {};
    }
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        fault_ = refused->sentence;
    }
}

void HandOverPage::lay_out_contents(Sheet& sheet)
{
    if (what_ != HandOver::plan)
        sheet.value({.label = "Days",
                     .value = dates_ == DateForm::dates ? "as dates" : "as day numbers",
                     .meaning = "Dates can identify a person. Day 1 is the first practice."},
                    [this](int) {
                        dates_ =
                            dates_ == DateForm::dates ? DateForm::day_numbers : DateForm::dates;
                    });
    if (what_ == HandOver::practices && whose_.clips.count > 0)
        sheet.value({.label = "Audio",
                     .value = clips_ == ClipsInExport::included ? "goes with it" : "left out",
                     .meaning = "Only what was recorded with consent is kept at all."},
                    [this](int) {
                        clips_ = clips_ == ClipsInExport::included ? ClipsInExport::left_out
                                                                   : ClipsInExport::included;
                    });
}

void HandOverPage::lay_out_passphrase(Sheet& sheet)
{
    if (what_ == HandOver::table) return;
    sheet.text({.label = "Passphrase",
                .text = passphrase_.first,
                .meaning = "May be left empty. With one, the file can be opened by nobody who does "
                           "not know it; a lost one cannot be found again.",
                .shown = TextRow::Shown::hidden},
               [this](const std::string& text) {
                   passphrase_.first = text;
                   fault_.clear();
               });
    if (passphrase_.first.empty() && passphrase_.second.empty()) return;
    sheet.text({.label = "Passphrase again",
                .text = passphrase_.second,
                .meaning = "Tell it to the other person, not in the same message as the file.",
                .shown = TextRow::Shown::hidden},
               [this](const std::string& text) {
                   passphrase_.second = text;
                   fault_.clear();
               });
}

void HandOverPage::lay_out_written(Sheet& sheet)
{
    sheet.say("Written", written_->path.string());
    sheet.say("What is in it", written_->holds);
    if (whose_.lasting == Lasting::until_closed)
        sheet.say("For now", gone_when_closed_said(whose_.lasting));
    if (whose_.side == FilesPageFor::Side::client && what_ == HandOver::practices) {
        sheet.say("What now", "Give this file to your therapist: on a stick, or however the two of "
                              "you agreed.");
    }
    sheet.button({.label = "Done", .does = "go back"}, [this] { wish(ClosePage{}); });
    sheet.button({.label = "Copy where it is", .meaning = "Its path, to the clipboard."},
                 [this] { wish(CopyText{written_->path.string()}); });
    sheet.button({.label = "Write another"}, [this] { written_.reset(); });
}

Sheet HandOverPage::lay_out()
{
    Sheet sheet;
    sheet.title = title();
    if (what_ != HandOver::plan || whose_.side == FilesPageFor::Side::therapist)
        sheet.lead = shortened(whose_.code, 40);
    if (written_) {
        lay_out_written(sheet);
        return sheet;
    }
    sheet.say("What will be in it", what_it_will_hold());
    sheet.button({.label = is_waiting_ ? "Writing …" : "Write the file",
                  .meaning = fmt::format("Into {}, under a name of its own; nothing that is there "
                                         "is written over.",
                                         usual_folder_said(whose_.lasting)),
                  .does = "write it"},
                 [this] { write(); });
    lay_out_contents(sheet);
    lay_out_passphrase(sheet);
    sheet.notice = fault_;
    return sheet;
}

}  // namespace

std::unique_ptr<Page> hand_over_page(HandOver what, const FilesPageFor& whose)
{
    return make_page<HandOverPage>(what, whose);
}

}  // namespace holdwell
