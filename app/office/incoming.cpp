#include "app/office/incoming.h"

#include <fmt/format.h>

#include <fstream>
#include <span>
#include <utility>

#include "app/files/model_sound.h"
#include "app/files/plan_file.h"
#include "app/files/sealed_file.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

std::string shown(const fs::path& path) { return path.filename().string(); }

// Open, and not larger than a file of ours can be.
Result<std::ifstream> opened(const fs::path& path)
{
    std::error_code error;
    if (!fs::exists(path, error))
        return Error{
            fmt::format("{} is not there; look whether its name is right.", path.string())};
    if (fs::is_directory(path, error))
        return Error{fmt::format("{} is a folder; name a file in it.", path.string())};
    if (!fs::is_regular_file(path, error))
        return Error{fmt::format("{} is not a file.", path.string())};
    if (const auto size = fs::file_size(path, error); !error && size > kMostFileBytes)
        return Error{fmt::format("{} has {} MB, and {} are the most that can be taken in; write "
                                 "it anew without recordings of the voice.",
                                 shown(path), size >> 20U, kMostFileBytes >> 20U)};
    std::ifstream file{path, std::ios::binary};
    if (!file.is_open())
        return Error{
            fmt::format("{} cannot be read; look whether it may be opened.", path.string())};
    return file;
}

std::size_t read_into(std::ifstream& file, std::span<char> to)
{
    file.read(to.data(), static_cast<std::streamsize>(to.size()));
    return static_cast<std::size_t>(file.gcount());
}

// "HOLDSEAL" or whatever else it begins with; then it is read from its beginning again.
bool begins_as_sealed(std::ifstream& file)
{
    std::string head(8, '\0');
    head.resize(read_into(file, head));
    file.clear();
    file.seekg(0);
    return is_sealed(head);
}

std::string rest_of(std::ifstream& file, const fs::path& path)
{
    std::error_code unknown;  // then it grows as it is read
    const std::uintmax_t size = fs::file_size(path, unknown);
    std::string bytes;
    if (!unknown) bytes.reserve(static_cast<std::size_t>(size) + 1);
    std::string block(1U << 20U, '\0');
    while (const std::size_t count = read_into(file, block)) bytes.append(block, 0, count);
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

std::vector<Fault> faults_of_sound(const std::vector<Plan>& plans)
{
    std::vector<Fault> faults;
    for (std::size_t i = 0; i < plans.size(); ++i)
        for (Fault& fault : holdwell::faults_of_sound(plans[i]))
            faults.push_back({fmt::format("plans[{}].{}", i, fault.place), fault.sentence});
    return faults;
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
    if (practices.file) practices.faults = faults_of_sound(practices.file->records.plans);
    if (practices.file && practices.faults.empty())
        return Incoming{std::move(request), std::move(*practices.file), practices.days};
    if (!is_another_format(practices.faults)) return refused_for(request.path, practices.faults);
    PlanReading plan = read_plan(text);
    if (plan.plan) plan.faults = faults_of_sound(*plan.plan);
    if (plan.plan && plan.faults.empty())
        return Incoming{std::move(request), std::move(*plan.plan), DaysInFile::dates};
    if (!is_another_format(plan.faults)) return refused_for(request.path, plan.faults);
    return refused_for_format(request.path);
}

}  // namespace

std::variant<Incoming, Refused> read_incoming(const PreviewImport& request)
{
    auto file = opened(request.path);
    if (!file) return Refused{.sentence = file.error().message};
    std::ifstream& in = file.value();
    if (!begins_as_sealed(in)) {
        const std::string text = rest_of(in, request.path);
        if (in.bad())
            return Refused{.sentence =
                               fmt::format("{} cannot be read to its end.", request.path.string())};
        return parsed(request, text);
    }
    if (request.passphrase.empty())
        return Refused{.sentence =
                           fmt::format("{} is sealed; type its passphrase.", shown(request.path)),
                       .wants_passphrase = true};
    const auto text =
        unseal([&in](std::span<char> to) { return read_into(in, to); }, request.passphrase);
    if (!text) return Refused{.sentence = text.error().message, .wants_passphrase = true};
    return parsed(request, text.value());
}

}  // namespace holdwell
