#include "app/cli/records_run.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <utility>

#include "app/cli/phrases.h"
#include "app/cli/values.h"
#include "app/files/day_words.h"
#include "app/practice/client_code.h"

namespace holdwell {

namespace {

constexpr std::size_t kMostOfAPassphrase = 4096;  // bytes

}  // namespace

RecordsRun::RecordsRun(std::string command, const RecordsArguments& arguments,
                       OfficeSettings settings, const Console& console)
    : command_{std::move(command)},
      arguments_{arguments}, settings_{std::move(settings)}, console_{console}
{
    if (!arguments.data.empty()) settings_.data_folder = arguments.data;
}

Office& RecordsRun::office()
{
    if (!office_) office_ = std::make_unique<Office>(settings_);
    return *office_;
}

ExitStatus RecordsRun::trouble(const std::string& sentence) const
{
    console_.err << command_ << ": " << printable(sentence) << '\n';
    return ExitStatus::trouble;
}

ExitStatus RecordsRun::wrong_usage(const std::string& sentence) const
{
    console_.err << command_ << ": " << printable(sentence) << '\n';
    return ExitStatus::wrong_usage;
}

Result<RosterLine> RecordsRun::client()
{
    if (!arguments_.client.empty()) return client_called(arguments_.client);
    const auto listed = ask<ClientsListed>(ListClients{});
    if (!listed) return listed.error();
    const auto& lines = listed.value().lines;
    if (lines.size() == 1) return lines.front();
    if (lines.empty())
        return Error{"there is nobody in the records yet; \"holdwell client add\" makes a client"};
    return Error{fmt::format("there are {} clients; name one, for example --client \"{}\"",
                             lines.size(), lines.front().code)};
}

Result<RosterLine> RecordsRun::client_called(const std::string& code)
{
    const auto listed = ask<ClientsListed>(ListClients{});
    if (!listed) return listed.error();
    for (const RosterLine& line : listed.value().lines)
        if (is_same_code(line.code, code)) return line;
    return Error{fmt::format(
        "there is no client \"{}\"; \"holdwell client list --all\" names everybody", code)};
}

Result<ListForm> RecordsRun::form() const
{
    if (arguments_.format == "text") return ListForm::text;
    if (arguments_.format == "csv") return ListForm::csv;
    if (arguments_.format == "json") return ListForm::json;
    return Error{
        fmt::format("{}: it can be text, json or csv", as_typed("--format", arguments_.format))};
}

Result<std::string> RecordsRun::passphrase() const
{
    const std::string& path = arguments_.passphrase_file;
    if (path.empty()) return std::string{};
    std::ifstream file{path};
    std::string line(kMostOfAPassphrase, '\0');
    file.read(line.data(), static_cast<std::streamsize>(line.size()));
    if (file.bad() || file.gcount() == 0)
        return Error{fmt::format("--passphrase-file {}: it cannot be read, or is empty", path)};
    line.resize(static_cast<std::size_t>(file.gcount()));
    line.erase(std::min(line.find_first_of("\r\n"), line.size()));
    if (line.empty())
        return Error{fmt::format("--passphrase-file {}: its first line is empty", path)};
    return line;
}

Result<std::optional<Date>> RecordsRun::day(const char* option, const std::string& text) const
{
    if (text.empty()) return std::optional<Date>{};
    if (const auto date = parse_day(text)) return date;
    return Error{fmt::format("{} {}: write a day such as 2026-03-09", option, text)};
}

std::string counted(long long n, const char* one, const char* many)
{
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

}  // namespace holdwell
