#include "app/cli/client_commands.h"

#include <cmath>
#include <fmt/format.h>

#include <algorithm>

#include "app/files/day_words.h"
#include "app/practice/roster_marks.h"

namespace holdwell {

namespace {

constexpr const char* kOneCode =
    "one code at a time; a code of several words goes in quotation marks, for example \"Heron 12\"";

template <typename Value>
ListCell cell_of(const std::optional<Value>& value)
{
    return value ? ListCell{*value} : ListCell{};
}

ListCell day_cell(const std::optional<Date>& day)
{
    return day && day->ok() ? ListCell{day_as_written(*day)} : ListCell{};
}

// Nobody's breath is known more finely.
std::optional<double> in_hundredths(std::optional<double> share)
{
    if (share) *share = std::round(100.0 * *share) / 100.0;
    return share;
}

std::vector<ListCell> row_of(const RosterLine& line)
{
    return {line.code,
            std::string{line.standing == Standing::active ? "active" : "archived"},
            day_cell(line.last_practice),
            line.practices_this_week,
            line.asked_a_week,
            cell_of(in_hundredths(line.goal_share)),
            line.reported_discomfort,
            has_not_practised(line),
            is_near_goal(line)};
}

struct WhoToList {
    const char* name;
    bool (*is_listed)(const RosterLine&);
};
constexpr WhoToList kWhoToList[]{
    {"", [](const RosterLine&) { return true; }},
    {"not-practised", has_not_practised},
    {"near-goal", is_near_goal},
    {"discomfort", [](const RosterLine& line) { return line.reported_discomfort; }}};

Result<WhoToList> who_to_list(const std::string& name)
{
    for (const WhoToList& who : kWhoToList)
        if (who.name == name) return who;
    return Error{fmt::format("--only {}: it can be not-practised, near-goal or discomfort", name)};
}

ExitStatus set_standing(RecordsRun& run, Standing standing)
{
    if (run.arguments().words.size() > 1) return run.wrong_usage(kOneCode);
    const auto line = run.client_called(run.arguments().words.front());
    if (!line) return run.trouble(line.error().message);
    const auto opened = run.ask<ClientOpened>(OpenClient{line.value().client});
    if (!opened) return run.trouble(opened.error().message);
    Client client = opened.value().file.client;
    client.standing = standing;
    const auto changed = run.ask<ClientChanged>(ChangeClient{client});
    if (!changed) return run.trouble(changed.error().message);
    run.say(fmt::format("\"{}\" is {} now.", client.code,
                        standing == Standing::active ? "active" : "archived"));
    return ExitStatus::ok;
}

std::size_t trials_in(const ClientFile& file)
{
    std::size_t count = 0;
    for (const Practice& practice : file.practices) count += practice.trials.size();
    return count;
}

// ---- practices ---------------------------------------------------------------------------------

constexpr const char* name_for_list(Completion completion)
{
    switch (completion) {
    case Completion::under_way:
        return "not finished";
    case Completion::complete:
        return "complete";
    case Completion::partial:
        return "stopped early";
    case Completion::not_today:
        return "no drills";
    case Completion::stopped_for_discomfort:
        return "stopped for discomfort";
    }
    return "";
}

// Of holds in which nothing was lost or in doubt.
std::optional<double> longest_hold(const Practice& practice)
{
    std::optional<double> longest;
    for (const Trial& trial : practice.trials) {
        const auto* hold = std::get_if<HoldMeasures>(&trial.measures);
        if (hold == nullptr || hold->has_gap || hold->doubt) continue;
        longest = std::max(longest.value_or(0.0), hold->hold_time.count());
    }
    return longest;
}

std::vector<ListCell> row_of(const Practice& practice)
{
    ListCell effort;
    ListCell discomfort;
    if (practice.rating) {
        effort = practice.rating->effort;
        discomfort = practice.rating->discomfort;
    }
    return {day_as_written(practice.begun.date),
            time_as_written(practice.begun.time),
            std::string{name_for_list(practice.completion)},
            static_cast<int>(practice.trials.size()),
            practice.trials_asked,
            cell_of(longest_hold(practice)),
            effort,
            discomfort,
            practice.id.text};
}

std::uintmax_t bytes_in(const std::filesystem::path& folder)
{
    std::error_code ignored;
    std::uintmax_t bytes = 0;
    for (const auto& entry : std::filesystem::directory_iterator{folder, ignored})
        if (entry.is_regular_file(ignored)) bytes += entry.file_size(ignored);
    return bytes;
}

}  // namespace

ExitStatus list_clients(RecordsRun& run)
{
    const auto form = run.form();
    if (!form) return run.wrong_usage(form.error().message);
    const auto who = who_to_list(run.arguments().only);
    if (!who) return run.wrong_usage(who.error().message);
    const auto listed = run.ask<ClientsListed>(ListClients{});
    if (!listed) return run.trouble(listed.error().message);
    Listing list{.columns = {{"code", "client"},
                             {"standing", ""},
                             {"last_practice", "last practice"},
                             {"practices_this_week", "this week"},
                             {"asked_a_week", "asked"},
                             {"goal_share", "of goal"},
                             {"reported_discomfort", "discomfort"},
                             {"not_practised", "not practised"},
                             {"near_goal", "near goal"}},
                 .rows = {}};
    for (const RosterLine& line : listed.value().lines) {
        const bool is_meant = run.arguments().all || line.standing == Standing::active;
        if (is_meant && who.value().is_listed(line)) list.rows.push_back(row_of(line));
    }
    run.print(written(list, form.value()));
    if (list.rows.empty() && form.value() == ListForm::text)
        run.say(run.arguments().only.empty() ? "There is nobody yet." : "Nobody.");
    return ExitStatus::ok;
}

ExitStatus add_client(RecordsRun& run)
{
    if (run.arguments().words.size() > 1) return run.wrong_usage(kOneCode);
    const auto added = run.ask<ClientAdded>(AddClient{run.arguments().words.front()});
    if (!added) return run.trouble(added.error().message);
    run.say(fmt::format("\"{}\" was added.", added.value().client.code));
    return ExitStatus::ok;
}

ExitStatus archive_client(RecordsRun& run) { return set_standing(run, Standing::archived); }
ExitStatus restore_client(RecordsRun& run) { return set_standing(run, Standing::active); }

ExitStatus delete_client(RecordsRun& run)
{
    if (run.arguments().words.size() > 1) return run.wrong_usage(kOneCode);
    const auto line = run.client_called(run.arguments().words.front());
    if (!line) return run.trouble(line.error().message);
    const auto opened = run.ask<ClientOpened>(OpenClient{line.value().client});
    if (!opened) return run.trouble(opened.error().message);
    const ClientFile& file = opened.value().file;
    const std::string all =
        fmt::format("\"{}\" with {}, {} and {}", file.client.code,
                    counted(static_cast<long long>(file.practices.size()), "practice", "practices"),
                    counted(static_cast<long long>(trials_in(file)), "trial", "trials"),
                    counted(opened.value().clips.count, "recording", "recordings"));
    if (!run.arguments().yes)
        return run.trouble(
            fmt::format("this deletes {} for good; add --yes if that is meant", all));
    const auto deleted = run.ask<ClientDeleted>(DeleteClient{file.client.id});
    if (!deleted) return run.trouble(deleted.error().message);
    run.say(fmt::format("Deleted: {}.", all));
    return ExitStatus::ok;
}

ExitStatus list_practices(RecordsRun& run)
{
    const auto form = run.form();
    if (!form) return run.wrong_usage(form.error().message);
    const auto client = run.client();
    if (!client) return run.trouble(client.error().message);
    const auto opened = run.ask<ClientOpened>(OpenClient{client.value().client});
    if (!opened) return run.trouble(opened.error().message);
    Listing list{.columns = {{"day", "day"},
                             {"time", "time"},
                             {"completion", ""},
                             {"trials", "trials"},
                             {"trials_asked", "asked"},
                             {"longest_hold_s", "longest hold (s)"},
                             {"effort", "effort"},
                             {"discomfort", "discomfort"}},
                 .rows = {}};
    if (form.value() != ListForm::text) list.columns.push_back({"id", ""});
    for (const Practice& practice : opened.value().file.practices) {
        auto row = row_of(practice);
        row.resize(list.columns.size());
        list.rows.push_back(std::move(row));
    }
    run.print(written(list, form.value()));
    if (list.rows.empty() && form.value() == ListForm::text) run.say("There is no practice yet.");
    return ExitStatus::ok;
}

ExitStatus describe_records(RecordsRun& run)
{
    const auto listed = run.ask<ClientsListed>(ListClients{});
    if (!listed) return run.trouble(listed.error().message);
    const auto& folder = run.settings().data_folder;
    run.say(folder.string());
    run.say(fmt::format(
        "{}, {:.1f} MB",
        counted(static_cast<long long>(listed.value().lines.size()), "client", "clients"),
        static_cast<double>(bytes_in(folder)) / 1e6));
    return ExitStatus::ok;
}

}  // namespace holdwell
