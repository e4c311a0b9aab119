#include "app/files/plan_file.h"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <system_error>

#include "app/base/whole_file.h"
#include "app/files/model_sound.h"
#include "app/files/plan_json.h"
#include "app/files/sealed_file.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

// All models at their longest, in base64, and room to spare.
constexpr std::size_t kMostBytes = 80U << 20U;

PlanReading refused(const fs::path& path, const std::string& why)
{
    return {.plan = {}, .faults = {{"", path.string() + " " + why}}};
}

}  // namespace

std::string as_json(const Plan& plan) { return text_of(json_of(plan)); }

PlanReading read_plan(std::string_view json)
{
    JsonText text = parse_json(json);
    if (!text.json) return {.plan = {}, .faults = {*text.fault}};
    PlanFromJson read = plan_from(*text.json, "");
    if (!read.faults.empty()) return {.plan = {}, .faults = std::move(read.faults)};
    return {.plan = std::move(read.plan), .faults = {}};
}

std::string in_words(const Fault& fault)
{
    return fault.place.empty() ? fault.sentence : fault.place + ": " + fault.sentence;
}

PlanReading load_plan(const fs::path& path)
{
    std::error_code problem;
    if (fs::is_directory(path, problem)) return refused(path, "is a folder, not a plan.");
    const std::uintmax_t size = fs::file_size(path, problem);
    if (problem) return refused(path, "cannot be opened: " + problem.message() + ".");
    if (size > kMostBytes) return refused(path, "is larger than any plan.");
    std::ifstream file{path, std::ios::binary};
    std::string text(static_cast<std::size_t>(size), '\0');
    if (!file || !file.read(text.data(), static_cast<std::streamsize>(text.size())))
        return refused(path, "cannot be read: " + std::string{std::strerror(errno)} + ".");
    if (is_sealed(text))
        return refused(path, "is sealed with a passphrase; take it in first (holdwell import).");
    if (text.empty()) return refused(path, "is empty.");
    PlanReading reading = read_plan(text);
    if (!reading.plan) return reading;
    reading.faults = faults_of_sound(*reading.plan);
    if (!reading.faults.empty()) reading.plan.reset();
    return reading;
}

Outcome save_plan(const fs::path& path, const Plan& plan)
{
    return replace_file(path, as_json(plan));
}

}  // namespace holdwell
