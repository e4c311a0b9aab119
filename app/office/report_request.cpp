#include "app/office/report_request.h"

#include <algorithm>

#include <fmt/format.h>

#include "app/office/new_file.h"
#include "app/report/report_pages.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

DayForm form_of(const WriteReport& request, const ClientFile& file, Date today)
{
    if (request.dates == DateForm::dates) return {};
    return {.day_one = first_day_of(file).value_or(today)};
}

Period period_of(const WriteReport& request, const ClientFile& file, Date today)
{
    const Date to = std::min(request.to.value_or(today), today);
    const Date usual = std::min(whole_record(file, today).from, to);
    return {.from = request.from.value_or(usual), .to = to, .today = today};
}

// One sentence; empty: nothing is wrong.
std::string fault_of(const WriteReport& request, const Period& period)
{
    if (period.from > period.to) {
        return fmt::format(
            "The report cannot begin on {} and end on {}; give an earlier beginning.",
            day_text(period.from, {}), day_text(period.to, {}));
    }
    if (!request.measurable) return {};
    const std::vector<Fault> faults = faults_of(*request.measurable);
    return faults.empty() ? std::string{} : faults.front().sentence;
}

std::string iso(Date day)
{
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                       static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

std::string file_name(const Client& client, Date last, const DayForm& days)
{
    const std::string day =
        days.day_one ? fmt::format("day-{}", days_between(*days.day_one, last).count() + 1)
                     : iso(last);
    return fmt::format("holdwell-report-{}-{}.pdf", name_part(client.code), day);
}

std::string contents_of(const ClientFile& file, const Period& period, const ReportOptions& options)
{
    return fmt::format("A report on \"{}\"{}, {} to {}{}.", file.client.code,
                       options.name.empty() ? "" : " with the name you typed",
                       day_text(period.from, options.days), day_text(period.to, options.days),
                       options.days.day_one ? ", without dates" : ", with dates");
}

Answer written(const Desk& desk, const WriteReport& request, const ClientFile& file)
{
    const Date today = desk.settings.now().date;
    const Period period = period_of(request, file, today);
    if (std::string fault = fault_of(request, period); !fault.empty())
        return Refused{.sentence = std::move(fault)};
    const ReportOptions options{.made_on = today,
                                .days = form_of(request, file, today),
                                .name = request.name,
                                .measurable = request.measurable};
    const auto pdf = report_pdf(report_view(file, period, options),
                                request.paper == Paper::letter ? kLetter : kA4);
    if (!pdf) return Refused{.sentence = pdf.error().message};
    const fs::path& folder = desk.settings.documents_folder;
    std::error_code ignored;  // what is wrong with it is said when the file cannot be written
    if (request.path.empty()) fs::create_directories(folder, ignored);
    const std::string name = file_name(file.client, period.to, options.days);
    const auto path = write_new_file(
        path_for({.wanted = request.path, .folder = folder, .name = name}), pdf.value());
    if (!path) return Refused{.sentence = path.error().message};
    return Written{.path = path.value(), .holds = contents_of(file, period, options)};
}

}  // namespace

Answer answer(Desk& desk, const WriteReport& request)
{
    const auto file = desk.keeper.client_file(request.client);
    if (!file) return Refused{.sentence = file.error().message};
    if (!file.value())
        return Refused{.sentence = "This client is not in the records; she may have been deleted."};
    return written(desk, request, *file.value());
}

}  // namespace holdwell
