#include <utility>

#include "app/pages/hand_over_page.h"
#include "app/pages/import_page.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"

namespace holdwell {
namespace {

// A folder of downloads can hold many; the newest are what is looked for.
constexpr std::size_t kMostFound = 8;
constexpr std::size_t kNameLetters = 44;

class FilesPage final : public RowPage {
public:
    explicit FilesPage(FilesPageFor setup) : setup_{std::move(setup)} {}

protected:
    void shown() override;
    void heard(const Answer& answer) override;
    void dropped(const std::filesystem::path& path) override { bring_in(path); }
    Sheet lay_out() override;

private:
    bool is_client() const { return setup_.side == FilesPageFor::Side::client; }
    void bring_in(const std::filesystem::path& path);
    void bring_in_typed();
    void lay_out_hand_over(Sheet& sheet);
    void lay_out_bring_in(Sheet& sheet);
    void add_hand_over(Sheet& sheet, HandOver what, LinkRow row);

    FilesPageFor setup_;
    std::vector<FoundFile> found_;
    bool has_looked_{false};
    std::string path_;
    std::string path_fault_;
};

void FilesPage::shown()
{
    wish(Ask{FindFiles{}});
    if (const auto dropped = std::exchange(setup_.dropped, std::nullopt)) bring_in(*dropped);
}

void FilesPage::heard(const Answer& answer)
{
    if (const auto* found = std::get_if<FilesFound>(&answer)) {
        found_ = found->files;
        has_looked_ = true;
    }
}

void FilesPage::bring_in(const std::filesystem::path& path)
{
    wish(OpenPage{import_page(path, setup_)});
}

void FilesPage::bring_in_typed()
{
    if (path_.empty())
        path_fault_ = "Type where the file is, or drop it onto this window.";
    else
        bring_in(path_);
}

void FilesPage::add_hand_over(Sheet& sheet, HandOver what, LinkRow row)
{
    sheet.link(std::move(row), [this, what] { wish(OpenPage{hand_over_page(what, setup_)}); });
}

void FilesPage::lay_out_hand_over(Sheet& sheet)
{
    if (setup_.client.text.empty()) return;
    if (is_client()) {
        sheet.say("To your therapist", "");
        add_hand_over(sheet, HandOver::practices,
                      {.label = "Hand back your practices",
                       .meaning = "One file with all you have practised."});
    } else {
        sheet.say("From here", "");
        add_hand_over(sheet, HandOver::plan,
                      {.label = "Hand over the plan",
                       .meaning = "The plan in force, as one file for the client."});
        add_hand_over(sheet, HandOver::practices,
                      {.label = "Write everything of this client",
                       .meaning = "All records in one file that can be brought in again."});
    }
    add_hand_over(sheet, HandOver::table,
                  {.label = "Write a table of all trials", .meaning = "CSV, for a spreadsheet."});
}

void FilesPage::lay_out_bring_in(Sheet& sheet)
{
    sheet.say(is_client() ? "From your therapist" : "Bring in",
              found_.empty() && has_looked_
                  ? "No plan or practice file was found in your documents, downloads or desktop "
                    "folders. Drop one onto this window, or type where it is."
                  : "Found in your folders, newest first. A file can also be dropped onto this "
                    "window. Nothing is taken in before you have seen what it is.");
    for (std::size_t i = 0; i < found_.size() && i < kMostFound; ++i)
        sheet.link({.label = shortened(found_[i].path.filename().string(), kNameLetters),
                    .columns = {found_[i].says},
                    .meaning = found_[i].path.parent_path().string(),
                    .does = "look into it"},
                   [this, path = found_[i].path] { bring_in(path); });
    sheet.text(
        {.label = "Another file",
         .text = path_,
         .meaning = "Where it is: type or paste the path and press Enter.",
         .fault = path_fault_},
        [this](const std::string& text) {
            path_ = text;
            path_fault_.clear();
        },
        [this] { bring_in_typed(); });
}

Sheet FilesPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Files";
    sheet.lead = is_client()
                     ? "What goes between you and your therapist goes as a file that you hand "
                       "over yourself. Nothing is sent over a network."
                     : "Plans go home and practices come back as files. Nothing is sent over a "
                       "network.";
    lay_out_hand_over(sheet);
    lay_out_bring_in(sheet);
    sheet.key({"P", "privacy", 'P'}, [this] { wish(OpenPage{privacy_page()}); });
    return sheet;
}

}  // namespace

std::unique_ptr<Page> files_page(FilesPageFor setup)
{
    return make_page<FilesPage>(std::move(setup));
}

}  // namespace holdwell
