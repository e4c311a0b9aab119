#include "app/window_records.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include "app/office/office.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

std::vector<fs::path> practice_files_in(const fs::path& folder)
{
    std::vector<fs::path> files;
    std::error_code ignored;
    fs::directory_iterator entry{folder, ignored};
    for (; entry != fs::directory_iterator{}; entry.increment(ignored)) {
        if (entry->path().extension() == ".json") files.push_back(entry->path());
    }
    std::ranges::sort(files);
    return files;
}

Result<Id> taken_in(Office& office, const fs::path& file)
{
    const Answer preview = office.answer(PreviewImport{.path = file});
    if (const auto* refused = std::get_if<Refused>(&preview)) return Error{refused->sentence};
    const Answer done = office.answer(ConfirmImport{});
    if (const auto* imported = std::get_if<Imported>(&done)) return imported->client;
    const auto* refused = std::get_if<Refused>(&done);
    return Error{refused != nullptr ? refused->sentence : file.string() + " was not taken in"};
}

// In the afternoon of the last day practised: an example is as if opened just then.
std::optional<Moment> end_of_practice(Office& office, const Id& client)
{
    const Answer answer = office.answer(OpenClient{client});
    const auto* opened = std::get_if<ClientOpened>(&answer);
    if (opened == nullptr || opened->file.practices.empty()) return std::nullopt;
    const Moment last = opened->file.practices.back().begun;
    return Moment{last.date, {std::chrono::hours{17}}};
}

// The first file's client practises here, the others are the therapist's.
Result<Moment> fill(Office& office, const std::string& folder)
{
    const std::vector<fs::path> files = practice_files_in(folder);
    if (files.empty()) return Error{folder + " holds no practice files (*.json)"};
    std::optional<Moment> now;
    for (const fs::path& file : files) {
        const auto client = taken_in(office, file);
        if (!client) return client.error();
        if (file == files.front()) (void)office.answer(SetHome{client.value()});
        now = std::max(now, end_of_practice(office, client.value()));
    }
    if (!now) return Error{folder + " holds no practices; use a folder of practice files"};
    return *now;
}

Result<fs::path> passing_folder()
{
    std::string name = (fs::temp_directory_path() / "holdwell-example-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) {
        return Error{"no folder can be made in " + fs::temp_directory_path().string() +
                     "; is there room?"};
    }
    return fs::path{name};
}

}  // namespace

Result<std::unique_ptr<WindowRecords>> WindowRecords::open(const std::string& example,
                                                           std::function<void()> wake)
{
    std::unique_ptr<WindowRecords> records{new WindowRecords};
    OfficeSettings settings = usual_settings();
    if (!example.empty()) {
        const auto folder = passing_folder();
        if (!folder) return folder.error();
        records->passing_folder_ = folder.value();
        settings.lasting = Lasting::until_closed;
        settings.data_folder = folder.value();
        settings.documents_folder = folder.value();
        settings.file_folders = {folder.value()};
        Office office{settings};
        const auto now = fill(office, example);
        if (!now) return now.error();
        settings.now = [moment = now.value()] { return moment; };
    }
    records->now_ = settings.now;
    records->office_ = std::make_unique<OfficeThread>(std::move(settings), std::move(wake));
    return records;
}

WindowRecords::~WindowRecords()
{
    office_.reset();
    std::error_code ignored;
    if (!passing_folder_.empty()) fs::remove_all(passing_folder_, ignored);
}

}  // namespace holdwell
