#include "app/office/incoming.h"

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <utility>

#include "app/files/plan_file.h"
#include "app/files/sealed_file.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kMostBytes = 1024U * 1024U * 1024U;

std::string shown(const fs::path& path) { return path.filename().string(); }

Result<std::string> bytes_of_file(const fs::path& path)
{
    std::error_code error;
    if (!fs::exists(path, error))
        return Error{
            fmt::format("{} is not there; look whether its name is right.", path.string())};
    if (!fs::is_regular_file(path, error))
        return Error{fmt::format("{} is not a file.", path.string())};
    if (const auto size = fs::file_size(path, error); !error && size > kMostBytes)
        return Error{fmt::format("{} is larger than a file of practices can be.", shown(path))};
    std::ifstream file{path, std::ios::binary};
    std::string bytes{std::istreambuf_iterator<char>{file}, {}};
    if (file.bad() || !file.is_open())
        return Error{
            fmt::format("{} cannot be read; look whether it may be opened.", path.string())};
    return bytes;
}

// One sentence for all faults of a file, with the first of them.
Refused refused_for(const fs::path& path, const std::vector<Fault>& faults)
{
    const std::string more =
        faults.size() > 1 ? fmt::format(" (and {} more)", faults.size() - 1) : "";
    return {.sentence = fmt::format("Nothing was taken from {}. {}{}", shown(path),
                                    in_words(faults.front()), more)};
}

bool is_another_format(const std::vector<Fault>& faults)
{
    return !faults.empty() && faults.front().place == "format";
}

Refused refused_for_format(const fs::path& path)
{
    return {.sentence =
                fmt::format("{} holds neither a plan nor practices of Holdwell.", shown(path))};
}

bool looks_like_json(std::string_view text)
{
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && text[first] == '{';
}

std::variant<Incoming, Refused> parsed(PreviewImport request, std::string_view text)
{
    request.passphrase.clear();
    if (!looks_like_json(text)) return refused_for_format(request.path);
    PracticeFileReading practices = read_practices(text);
    if (practices.file)
        return Incoming{std::move(request), std::move(*practices.file), practices.days};
    if (!is_another_format(practices.faults)) return refused_for(request.path, practices.faults);
    PlanReading plan = read_plan(text);
    if (plan.plan) return Incoming{std::move(request), std::move(*plan.plan), DaysInFile::dates};
    if (!is_another_format(plan.faults)) return refused_for(request.path, plan.faults);
    return refused_for_format(request.path);
}

}  // namespace

std::variant<Incoming, Refused> read_incoming(const PreviewImport& request)
{
    const auto bytes = bytes_of_file(request.path);
    if (!bytes) return Refused{.sentence = bytes.error().message};
    if (!is_sealed(bytes.value())) return parsed(request, bytes.value());
    if (request.passphrase.empty())
        return Refused{.sentence =
                           fmt::format("{} is sealed; type its passphrase.", shown(request.path)),
                       .wants_passphrase = true};
    const auto text = unseal(bytes.value(), request.passphrase);
    if (!text) return Refused{.sentence = text.error().message, .wants_passphrase = true};
    return parsed(request, text.value());
}

}  // namespace holdwell
