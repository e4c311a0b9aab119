#include <fmt/format.h>

#include <optional>
#include <utility>

#include "app/files/plan_file.h"
#include "app/files/practice_file.h"
#include "app/files/sealed_file.h"
#include "app/files/trials_table.h"
#include "app/office/exchange.h"
#include "app/office/new_file.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

Refused refused(const Error& error) { return {.sentence = error.message}; }
Refused nobody() { return {"This client is not in the records; she may have been deleted."}; }

// What is to be written, and where.
struct Parcel {
    std::string bytes;
    std::string name;  // in the documents folder, unless `path` says otherwise
    fs::path path;
    std::string holds;
};

Answer write(Desk& desk, const Parcel& parcel)
{
    std::error_code ignored;  // what is wrong with it is said when the file cannot be written
    if (parcel.path.empty()) fs::create_directories(desk.settings.documents_folder, ignored);
    const auto written = write_new_file(
        path_for(
            {.wanted = parcel.path, .folder = desk.settings.documents_folder, .name = parcel.name}),
        parcel.bytes);
    if (!written) return refused(written.error());
    return Written{.path = written.value(), .holds = parcel.holds};
}

Answer write_sealed(Desk& desk, Parcel parcel, const std::string& passphrase)
{
    if (passphrase.empty()) return write(desk, parcel);
    auto sealed = seal(parcel.bytes, passphrase);
    if (!sealed) return refused(sealed.error());
    parcel.bytes = std::move(sealed.value());
    parcel.name += ".sealed";
    parcel.holds += " Sealed with a passphrase.";
    return write(desk, parcel);
}

DayForm form_of(DateForm dates, const ClientFile& file)
{
    if (dates == DateForm::dates) return {};
    const auto first = first_day_of(file);
    return {.day_one = first ? *first : file.client.since.ok() ? file.client.since : kNoDayOne};
}

Result<std::vector<Clip>> clips_in(Store* store, const ClientFile& file)
{
    std::vector<Clip> clips;
    if (store == nullptr) return clips;
    for (const Practice& practice : file.practices) {
        for (const Trial& trial : practice.trials) {
            auto clip = store->clip(trial.id);
            if (!clip) return clip.error();
            if (clip.value()) clips.push_back(std::move(*clip.value()));
        }
    }
    return clips;
}

// A file that could not be taken in is not written. Base64 makes four bytes of three.
std::optional<Refused> objection_to_size(std::int64_t clip_bytes)
{
    const auto in_file = static_cast<std::uintmax_t>(clip_bytes) / 3 * 4;
    constexpr std::uintmax_t kBesides = kMostFileBytes / 8;  // for all that was measured
    if (in_file + kBesides <= kMostFileBytes) return std::nullopt;
    return Refused{fmt::format("The recordings of the voice would make this file {} MB large, and "
                               "{} are the most that can be taken in again; leave them out, or "
                               "let the plan keep them for fewer days.",
                               in_file >> 20U, kMostFileBytes >> 20U)};
}

std::string file_name(const char* what, const Client& client, const char* extension)
{
    return fmt::format("holdwell-{}-{}.{}", what, name_part(client.code), extension);
}

}  // namespace

Answer answer(Desk& desk, const ExportPlan& request)
{
    const auto file = desk.keeper.client_and_plans(request.client);
    if (!file) return refused(file.error());
    if (!file.value()) return nobody();
    if (file.value()->plans.empty())
        return Refused{.sentence = fmt::format("\"{}\" has no plan yet; write one first.",
                                               file.value()->client.code)};
    const Plan& plan = file.value()->plans.back();
    return write_sealed(
        desk,
        {.bytes = as_json(plan),
         .name = file_name("plan", file.value()->client, "json"),
         .path = request.path,
         .holds = fmt::format("The plan \"{}\", revision {}.", plan.title, plan.revision)},
        request.passphrase);
}

Answer answer(Desk& desk, const ExportPractices& request)
{
    auto records = desk.keeper.client_file(request.client);
    if (!records) return refused(records.error());
    if (!records.value()) return nobody();
    PracticeFile file{.records = std::move(*records.value()), .clips = {}};
    if (request.clips == ClipsInExport::included) {
        const auto bytes = desk.keeper.clips_of(request.client).bytes;
        if (const auto objection = objection_to_size(bytes)) return *objection;
        auto clips = clips_in(desk.keeper.store(), file.records);
        if (!clips) return refused(clips.error());
        file.clips = std::move(clips.value());
    }
    const DayForm days = form_of(request.dates, file.records);
    return write_sealed(desk,
                        {.bytes = as_json(file, days),
                         .name = file_name("practices", file.records.client, "json"),
                         .path = request.path,
                         .holds = contents_of(file, days)},
                        request.passphrase);
}

Answer answer(Desk& desk, const WriteTable& request)
{
    const auto file = desk.keeper.client_file(request.client);
    if (!file) return refused(file.error());
    if (!file.value()) return nobody();
    const ClientFile& records = *file.value();
    std::size_t trials = 0;
    for (const Practice& practice : records.practices) trials += practice.trials.size();
    const DayForm days = form_of(request.dates, records);
    return write(desk,
                 {.bytes = trials_table(records, days),
                  .name = file_name("trials", records.client, "csv"),
                  .path = request.path,
                  .holds = fmt::format(
                      "A table of all trials of \"{}\": {} {} of {} {}, {}.", records.client.code,
                      trials, trials == 1 ? "trial" : "trials", records.practices.size(),
                      records.practices.size() == 1 ? "practice" : "practices",
                      days.day_one ? "days counted, without dates" : "with dates and times")});
}

}  // namespace holdwell
