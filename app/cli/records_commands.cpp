#include "app/cli/records_commands.h"
#include "app/cli/values.h"

#include <CLI/CLI.hpp>

#include <fmt/format.h>

#include <map>
#include <string_view>
#include <utility>
#include <vector>

#include "app/cli/client_commands.h"
#include "app/cli/exchange_commands.h"
#include "app/cli/help_text.h"
#include "app/cli/plan_commands.h"

namespace holdwell {

namespace {

// What a command takes beside --data, which all of them take.
enum class Takes {
    word,  // one word or more, which must be there
    optional_word,
    client,
    format,
    out,
    passphrase,
    days,  // --day-numbers
    voice,
    yes,
    all,
    day_one,
    period,
    name,
};

struct RecordsCommand {
    const char* group;  // the first word
    const char* verb;   // the second; empty: there is none
    ExitStatus (*run)(RecordsRun&);
    std::vector<Takes> takes;
    const char* missing{""};  // said when its word is not there
};

const std::vector<RecordsCommand>& commands()
{
    static const std::vector<RecordsCommand> all{
        {"plan",
         "check",
         check_plans,
         {Takes::word},
         "name a plan's file, for example my-plan.json"},
        {"plan", "show", show_plan, {Takes::optional_word, Takes::client}},
        {"plan", "templates", list_templates, {Takes::format}},
        {"plan",
         "new",
         print_new_plan,
         {Takes::word},
         "name a template; \"holdwell plan templates\" lists them"},
        {"client", "list", list_clients, {Takes::format, Takes::all}},
        {"client", "add", add_client, {Takes::word}, "name a code, for example C-17"},
        {"client", "archive", archive_client, {Takes::word}, "name a client by her code"},
        {"client", "restore", restore_client, {Takes::word}, "name a client by her code"},
        {"client", "delete", delete_client, {Takes::word, Takes::yes}, "name a client by her code"},
        {"practice", "list", list_practices, {Takes::client, Takes::format}},
        {"export", "plan", export_plan, {Takes::client, Takes::out, Takes::passphrase}},
        {"export",
         "practices",
         export_practices,
         {Takes::client, Takes::out, Takes::passphrase, Takes::days, Takes::voice}},
        {"export", "table", export_table, {Takes::client, Takes::out, Takes::days}},
        {"import",
         "",
         import_file,
         {Takes::word, Takes::client, Takes::passphrase, Takes::day_one, Takes::yes},
         "name a file that was handed over, for example practices.json"},
        {"report",
         "",
         write_report,
         {Takes::client, Takes::out, Takes::period, Takes::days, Takes::name}},
        {"records", "", describe_records, {}},
    };
    return all;
}

const std::map<std::string_view, std::string_view>& help_of_groups()
{
    static const std::map<std::string_view, std::string_view> help{
        {"plan", kPlanHelp},      {"client", kClientHelp}, {"practice", kPracticeHelp},
        {"export", kExportHelp},  {"import", kImportHelp}, {"report", kReportHelp},
        {"records", kRecordsHelp}};
    return help;
}

std::string words_of(const RecordsCommand& command)
{
    return fmt::format("holdwell {}{}{}", command.group, *command.verb == '\0' ? "" : " ",
                       command.verb);
}

void use_help(CLI::App& app, std::string_view text)
{
    app.formatter_fn(
        [text](const CLI::App*, std::string, CLI::AppFormatMode) { return std::string{text}; });
}

void declare(CLI::App& app, Takes takes, RecordsArguments& to)
{
    switch (takes) {
    case Takes::word:
        app.add_option("WORD", to.words)->required();
        break;
    case Takes::optional_word:
        app.add_option("WORD", to.words);
        break;
    case Takes::client:
        app.add_option("--client", to.client)->check(&no_nothing);
        break;
    case Takes::format:
        app.add_option("--format", to.format);
        break;
    case Takes::out:
        app.add_option("--out", to.out)->check(&no_nothing);
        break;
    case Takes::passphrase:
        app.add_option("--passphrase-file", to.passphrase_file)->check(&no_nothing);
        break;
    case Takes::days:
        app.add_flag("--day-numbers", to.day_numbers);
        break;
    case Takes::voice:
        app.add_flag("--with-voice", to.with_voice);
        break;
    case Takes::yes:
        app.add_flag("--yes", to.yes);
        break;
    case Takes::all:
        app.add_flag("--all", to.all);
        app.add_option("--only", to.only)->check(&no_nothing);
        break;
    case Takes::day_one:
        app.add_option("--day-one", to.day_one)->check(&no_nothing);
        break;
    case Takes::period:
        app.add_option("--from", to.from)->check(&no_nothing);
        app.add_option("--until", to.until)->check(&no_nothing);
        break;
    case Takes::name:
        app.add_option("--name", to.name);
        break;
    }
}

}  // namespace

struct RecordsCommands::State {
    struct Declared {
        const RecordsCommand* command;
        CLI::App* app;
    };
    RecordsArguments arguments;
    std::map<std::string_view, CLI::App*> groups;
    std::vector<Declared> declared;

    CLI::App& group(CLI::App& program, const RecordsCommand& command)
    {
        CLI::App*& app = groups[command.group];
        if (app != nullptr) return *app;
        app = program.add_subcommand(command.group);
        use_help(*app, help_of_groups().at(command.group));
        if (*command.verb != '\0') app->require_subcommand(1);
        return *app;
    }

    const Declared* chosen() const
    {
        for (const Declared& one : declared)
            if (one.app->parsed()) return &one;
        return nullptr;
    }
};

RecordsCommands::RecordsCommands(CLI::App& program) : state_{std::make_unique<State>()}
{
    for (const RecordsCommand& command : commands()) {
        CLI::App* app = &state_->group(program, command);
        if (*command.verb != '\0') {
            app = app->add_subcommand(command.verb);
            use_help(*app, help_of_groups().at(command.group));
        }
        app->add_option("--data", state_->arguments.data)->check(&no_option);
        for (const Takes takes : command.takes) declare(*app, takes, state_->arguments);
        state_->declared.push_back({&command, app});
    }
}

RecordsCommands::~RecordsCommands() = default;

bool RecordsCommands::is_chosen() const { return state_->chosen() != nullptr; }

ExitStatus RecordsCommands::run(const Console& console, OfficeSettings settings) const
{
    const State::Declared& chosen = *state_->chosen();
    RecordsRun run{words_of(*chosen.command), state_->arguments, std::move(settings), console};
    return chosen.command->run(run);
}

std::vector<std::string> RecordsCommands::verbs_of(const std::string& command) const
{
    std::vector<std::string> verbs;
    for (const RecordsCommand& one : commands())
        if (fmt::format("holdwell {}", one.group) == command && *one.verb != '\0')
            verbs.emplace_back(one.verb);
    return verbs;
}

std::string RecordsCommands::sentence_on_missing(const std::string& command) const
{
    std::string verbs;
    for (const RecordsCommand& one : commands()) {
        if (words_of(one) == command) return one.missing;
        if (fmt::format("holdwell {}", one.group) != command) continue;
        if (!verbs.empty() && *one.verb != '\0') verbs += ", ";
        verbs += one.verb;
    }
    return verbs.empty() ? "" : fmt::format("say what to do: {}", verbs);
}

}  // namespace holdwell
