#include <fmt/format.h>

#include "app/pages/confirm_page.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/record_words.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

class PrivacyPage final : public RowPage {
protected:
    void shown() override;
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    const Client& client() const { return home_->file.client; }
    void lay_out_storage(Sheet& sheet);
    void lay_out_audio(Sheet& sheet);
    void lay_out_deletion(Sheet& sheet);
    void change_consent();

    std::optional<HomeLoaded> home_;
    int others_{0};  // clients on this computer besides the one who practises here
};

void PrivacyPage::shown()
{
    wish(Ask{LoadHome{}});
    wish(Ask{ListClients{}});
}

void PrivacyPage::heard(const Answer& answer)
{
    if (const auto* home = std::get_if<HomeLoaded>(&answer)) home_ = *home;
    if (const auto* changed = std::get_if<ClientChanged>(&answer);
        changed && home_ && changed->client.id == client().id)
        home_->file.client = changed->client;
    if (const auto* listed = std::get_if<ClientsListed>(&answer); listed && home_) {
        others_ = 0;
        for (const RosterLine& line : listed->lines) others_ += line.client == client().id ? 0 : 1;
    }
}

void PrivacyPage::change_consent()
{
    Client changed = client();
    changed.keeps_audio = !changed.keeps_audio;
    wish(Ask{ChangeClient{std::move(changed)}});
}

void PrivacyPage::lay_out_storage(Sheet& sheet)
{
    sheet.say("What is kept",
              "The plan, the times and measures of each trial, the day and hour of each practice, "
              "and what you answered and wrote about it. A client is known by a code.");
    sheet.say(
        "Where",
        home_->folder.empty()
            ? "In memory only, for now: it is gone when the program ends."
            : fmt::format("{} ({}). Only your own account on this computer can read it. It is "
                          "not encrypted by this program: whoever can sign in as you can "
                          "read it, unless the disk itself is encrypted.",
                          home_->folder.string(), size_said(home_->bytes)));
    sheet.say("What leaves this computer",
              "Only files that you write yourself: plans, practices, tables, reports. They can be "
              "sealed with a passphrase, or carry day numbers instead of dates. This program uses "
              "no network.");
    if (!home_->handed_out.empty())
        sheet.say("Files written until now", handed_out_said(home_->handed_out));
    if (others_ > 0)
        sheet.say("Others",
                  fmt::format("{} in the list of clients. Each is deleted on their own page.",
                              counted(others_, "more record is", "more records are")));
}

void PrivacyPage::lay_out_audio(Sheet& sheet)
{
    sheet.say("Your voice",
              home_->clips.count == 0
                  ? "No audio is kept."
                  : fmt::format("{}, {}. They are deleted by themselves after the days that the "
                                "plan says.",
                                counted(home_->clips.count, "recording"),
                                size_said(home_->clips.bytes)));
    sheet.value({.label = "Audio of trials may be kept",
                 .value = client().keeps_audio ? "yes" : "no",
                 .meaning = "Only if the plan asks for it, too. A voice identifies a person, as a "
                            "face does."},
                [this](int) { change_consent(); });
    if (home_->clips.count > 0)
        sheet.button(
            {.label = "Delete the audio", .meaning = "Asks once more.", .does = "ask first"},
            [this] {
                wish(OpenPage{
                    confirm_page({.title = "Delete the audio",
                                  .lead = "This cannot be undone.",
                                  .what_happens = "All recordings of your trials are deleted and "
                                                  "overwritten. What was measured in them stays.",
                                  .word = "audio",
                                  .button = "Delete the audio",
                                  .request = DeleteClips{client().id}})});
            });
}

void PrivacyPage::lay_out_deletion(Sheet& sheet)
{
    sheet.button(
        {.label = "Delete all of my practice", .meaning = "Asks once more.", .does = "ask first"},
        [this] {
            wish(OpenPage{confirm_page(
                {.title = "Delete all of my practice",
                 .lead = "This cannot be undone.",
                 .what_happens = fmt::format(
                     "Your plan, {} and all audio are deleted from this computer and overwritten. "
                     "Files that you handed over are not touched.",
                     counted(static_cast<int>(home_->file.practices.size()), "practice")),
                 .word = "delete",
                 .button = "Delete all of it",
                 .request = DeleteClient{client().id}})});
        });
}

Sheet PrivacyPage::lay_out()
{
    Sheet sheet;
    sheet.title = "What is kept, and where";
    if (!home_) return sheet;
    sheet.lead = "All of it stays on this computer.";
    lay_out_storage(sheet);
    lay_out_audio(sheet);
    lay_out_deletion(sheet);
    sheet.key({"H", "cautions", 'H'}, [this] { wish(OpenCautions{}); });
    sheet.notice = home_->notice;
    return sheet;
}

}  // namespace

std::unique_ptr<Page> privacy_page() { return make_page<PrivacyPage>(); }

}  // namespace holdwell
