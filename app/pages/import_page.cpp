#include "app/pages/import_page.h"

#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

class ImportPage final : public RowPage {
public:
    ImportPage(std::filesystem::path file, const FilesPageFor& whose)
        : file_{std::move(file)}, whose_{whose}
    {
    }

protected:
    void shown() override;
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    enum class Wait { nothing, preview, import };
    void preview();
    void take_in();
    void learn(const ImportPreviewed& previewed);
    bool could_be_hers() const;
    void lay_out_sealed(Sheet& sheet);
    void lay_out_contents(Sheet& sheet);
    void lay_out_choices(Sheet& sheet);
    void lay_out_day_one(Sheet& sheet);
    void lay_out_taken_in(Sheet& sheet);
    void lay_out_refused(Sheet& sheet);

    std::filesystem::path file_;
    FilesPageFor whose_;
    std::string passphrase_;
    bool is_sealed_{false};
    bool is_into_her_{false};  // the client whose page this was opened from
    std::string day_one_;      // as typed
    std::string fault_;
    Wait wait_{Wait::nothing};
    std::optional<ImportPreviewed> previewed_;
    bool is_stale_{false};  // something was changed that previewed_ was not asked with
    std::optional<Imported> imported_;
};

void ImportPage::shown()
{
    if (!previewed_ && !imported_ && !is_sealed_) preview();
}

void ImportPage::preview()
{
    is_stale_ = true;
    if (wait_ != Wait::nothing) return;  // of two previews the first would be taken for the second
    PreviewImport request{.path = file_, .passphrase = passphrase_};
    if (is_into_her_) request.into = whose_.client;
    if (!day_one_.empty()) {
        request.day_one = date_typed(day_one_);
        if (!request.day_one) {
            fault_ = "A day is typed as year-month-day: 2026-03-28.";
            return;
        }
    }
    fault_.clear();
    is_stale_ = false;
    wait_ = Wait::preview;
    wish(Ask{std::move(request)});
}

// Only what the page shows: what was changed since is looked into first.
void ImportPage::take_in()
{
    if (wait_ != Wait::nothing || !previewed_) return;
    if (is_stale_) {
        preview();
        if (fault_.empty()) fault_ = "Look again: this is how it would be taken in now.";
        return;
    }
    fault_.clear();
    wait_ = Wait::import;
    wish(Ask{ConfirmImport{}});
}

// A plan opened from a client's page of the therapist is meant for that client.
void ImportPage::learn(const ImportPreviewed& previewed)
{
    previewed_ = previewed;
    const bool is_for_her = whose_.side == FilesPageFor::Side::therapist &&
                            !whose_.client.text.empty() && previewed.carries == Carries::plan;
    if (!is_for_her || is_into_her_) return;
    is_into_her_ = true;
    preview();
}

void ImportPage::heard(const Answer& answer)
{
    if (wait_ == Wait::nothing) return;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        if (wait_ == Wait::preview) previewed_.reset();
        is_stale_ = true;  // looked into anew before it is tried again
        wait_ = Wait::nothing;
        is_sealed_ = is_sealed_ || refused->wants_passphrase;
        fault_ = refused->wants_passphrase && passphrase_.empty() ? "" : refused->sentence;
    }
    if (const auto* previewed = std::get_if<ImportPreviewed>(&answer)) {
        wait_ = Wait::nothing;
        learn(*previewed);
    }
    if (const auto* imported = std::get_if<Imported>(&answer)) {
        wait_ = Wait::nothing;
        imported_ = *imported;
    }
}

void ImportPage::lay_out_sealed(Sheet& sheet)
{
    sheet.say("This file is sealed", "Type the passphrase that whoever handed it to you chose.");
    sheet.text(
        {.label = "Passphrase",
         .text = passphrase_,
         .fault = fault_,
         .shown = TextRow::Shown::hidden,
         .does = "open it"},
        [this](const std::string& text) {
            passphrase_ = text;
            fault_.clear();
        },
        [this] { preview(); });
    sheet.button({.label = "Open it", .does = "open it"}, [this] { preview(); });
}

std::string contents_said(const ImportPreviewed& previewed)
{
    if (previewed.carries == Carries::plan)
        return previewed.plan ? "A plan: “" + previewed.plan->title + "”." : "A plan.";
    std::string said =
        fmt::format("{} with {}, new here.", counted(previewed.new_practices, "practice"),
                    counted(previewed.new_trials, "trial"));
    if (previewed.new_practices == 0) said = "No practice that is new here.";
    if (previewed.already_here > 0)
        said += fmt::format(" {} here already and left as {}.",
                            counted(previewed.already_here, "practice is", "practices are"),
                            previewed.already_here == 1 ? "it is" : "they are");
    return said;
}

void ImportPage::lay_out_contents(Sheet& sheet)
{
    if (previewed_->carries == Carries::practices || whose_.side == FilesPageFor::Side::therapist)
        sheet.say("Whose it is",
                  previewed_->client_code +
                      (previewed_->client_is_new ? ", who is new here" : ", who is here already"));
    sheet.say("What is in it", contents_said(*previewed_));
    if (previewed_->plan) {
        const auto lines = plan_in_two_lines(*previewed_->plan);
        sheet.say("This plan comes into force", lines[0] + "\n" + lines[1]);
        if (!previewed_->plan->words_for_client.empty())
            sheet.say("Words with it", previewed_->plan->words_for_client);
    }
    for (const std::string& conflict : previewed_->conflicts) sheet.say("Both are kept", conflict);
    for (const std::string& note : previewed_->notes) sheet.say("", note, TextBlock::Weight::quiet);
}

bool ImportPage::could_be_hers() const
{
    return whose_.side == FilesPageFor::Side::therapist && !whose_.client.text.empty() &&
           (previewed_->client_is_new || is_into_her_) && previewed_->carries != Carries::plan;
}

void ImportPage::lay_out_choices(Sheet& sheet)
{
    if (could_be_hers())
        sheet.value({.label = "Take it in for",
                     .value = is_into_her_ ? shortened(whose_.code, 28) : "whoever the file says",
                     .meaning = "At home a client may be kept under another code."},
                    [this](int) {
                        is_into_her_ = !is_into_her_;
                        preview();
                    });
    if (previewed_->has_numbered_days || !day_one_.empty()) lay_out_day_one(sheet);
}

void ImportPage::lay_out_day_one(Sheet& sheet)
{
    sheet.text(
        {.label = "Day 1 was on",
         .text = day_one_,
         .meaning = "The file has day numbers and no dates: its day 1 is needed before it can be "
                    "taken in. Type year-month-day and press Enter."},
        [this](const std::string& text) {
            day_one_ = text;
            is_stale_ = true;
            if (previewed_) fault_.clear();
        },
        [this] { preview(); });
}

void ImportPage::lay_out_taken_in(Sheet& sheet)
{
    std::vector<std::string> parts;
    if (imported_->plans > 0) parts.push_back(counted(imported_->plans, "plan"));
    if (imported_->practices > 0) parts.push_back(counted(imported_->practices, "practice"));
    sheet.say("Taken in", parts.empty() ? "All of it was here already: nothing was changed."
                                        : joined(parts) + ". The file itself is left where it is.");
    sheet.button({.label = "Done", .does = "go back"}, [this] { wish(ClosePage{}); });
    if (whose_.side == FilesPageFor::Side::therapist && imported_->client != whose_.client)
        sheet.button({.label = "Open the client", .does = "open"},
                     [this] { wish(ReplacePage{client_page(imported_->client)}); });
}

void ImportPage::lay_out_refused(Sheet& sheet)
{
    sheet.say("It was not taken in", fault_);
    sheet.button({.label = "Choose another file", .does = "go back"},
                 [this] { wish(ClosePage{}); });
    sheet.button({.label = "Look at this one again",
                  .meaning = "Once it was put right, or its stick is back."},
                 [this] { preview(); });
    // A day that it was refused for can be typed anew.
    if (!day_one_.empty()) lay_out_day_one(sheet);
}

Sheet ImportPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Bring in a file";
    sheet.lead = file_.filename().string();
    if (imported_) {
        lay_out_taken_in(sheet);
    } else if (previewed_) {
        lay_out_contents(sheet);
        lay_out_choices(sheet);
        sheet.button({.label = wait_ == Wait::import ? "Taking it in …" : "Take it in",
                      .meaning = "Nothing that is here is lost or written over.",
                      .does = "take it in"},
                     [this] { take_in(); });
        sheet.notice = fault_;
    } else if (is_sealed_) {
        lay_out_sealed(sheet);
    } else if (fault_.empty()) {
        sheet.say("One moment", "The file is being read.");
    } else {
        lay_out_refused(sheet);
    }
    return sheet;
}

}  // namespace

std::unique_ptr<Page> import_page(std::filesystem::path file, const FilesPageFor& whose)
{
    return make_page<ImportPage>(std::move(file), whose);
}

}  // namespace holdwell
