#include <algorithm>
#include <fstream>
#include <optional>
#include <string_view>

#include "app/files/sealed_file.h"
#include "app/office/exchange.h"
#include "app/office/surroundings.h"
#include "app/practice/day_text.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostListed = 50;
constexpr std::size_t kMostLookedAt = 2000;  // in one folder

struct Candidate {
    FoundFile file;
    fs::file_time_type changed;
};

// What the file says of itself at its beginning; nothing when it is none of ours.
std::optional<std::string> kind_of(const fs::path& path)
{
    std::string head(512, '\0');
    std::ifstream file{path, std::ios::binary};
    file.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(file.gcount()));
    if (is_sealed(head)) return "sealed";
    // In this order: a practice file holds plans as well.
    if (head.find("\"holdwell practices\"") != std::string::npos) return "practices";
    if (head.find("\"holdwell plan\"") != std::string::npos) return "plan";
    return std::nullopt;
}

bool may_be_ours(const fs::path& path)
{
    const std::string extension = path.extension().string();
    return (extension == ".json" || extension == ".sealed") &&
           !path.filename().string().starts_with('.');
}

Date day_of(fs::file_time_type time)
{
    const auto on_system_clock = std::chrono::file_clock::to_sys(time);
    return moment_of(std::chrono::system_clock::to_time_t(
                         std::chrono::floor<std::chrono::seconds>(on_system_clock)))
        .date;
}

void look_in(const fs::path& folder, std::vector<Candidate>& found)
{
    std::error_code error;  // a folder that is not there, or may not be read, has no files for us
    std::size_t looked_at = 0;
    for (fs::directory_iterator at{folder, error}, end; !error && at != end; at.increment(error)) {
        if (++looked_at > kMostLookedAt) return;
        std::error_code ignored;
        if (!may_be_ours(at->path()) || !at->is_regular_file(ignored)) continue;
        const auto changed = at->last_write_time(ignored);
        if (const auto kind = kind_of(at->path()))
            found.push_back(
                {{at->path(), *kind + ", " + short_day_text(day_of(changed), {})}, changed});
    }
}

}  // namespace

Answer answer(Desk& desk, const FindFiles&)
{
    std::vector<Candidate> found;
    for (const fs::path& folder : desk.settings.file_folders) look_in(folder, found);
    std::ranges::stable_sort(found, std::ranges::greater{}, &Candidate::changed);
    FilesFound files;
    for (Candidate& candidate : found) {
        const auto is_it = [&](const FoundFile& f) { return f.path == candidate.file.path; };
        if (files.files.size() < kMostListed && std::ranges::none_of(files.files, is_it))
            files.files.push_back(std::move(candidate.file));
    }
    return files;
}

}  // namespace holdwell
