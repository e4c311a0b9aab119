#include "app/cli/command_line.h"

#include <CLI/CLI.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "app/cli/coach.h"
#include "app/cli/coach_options.h"
#include "app/cli/coach_plan.h"
#include "app/cli/devices.h"
#include "app/cli/help_text.h"
#include "app/cli/measure.h"
#include "app/cli/measure_options.h"
#include "app/cli/near_match.h"
#include "app/cli/phrases.h"
#include "app/cli/records_commands.h"
#include "app/cli/values.h"

namespace holdwell {

namespace {

// The commands as the library knows them, and where it puts what was typed.
struct CommandLine {
    CLI::App program{"Holdwell"};
    CLI::App* measure{program.add_subcommand("measure")};
    CLI::App* coach{program.add_subcommand("coach")};
    CLI::App* devices{program.add_subcommand("devices")};
    RecordsCommands records{program};
    WindowRequest window;
    MeasureArguments measure_arguments;
    CoachArguments coach_arguments;
};

void use_help(CLI::App& command, std::string_view text)
{
    command.formatter_fn(
        [text](const CLI::App*, std::string, CLI::AppFormatMode) { return std::string{text}; });
}

void describe_program(CommandLine& line)
{
    use_help(line.program, kHelp);
    line.program.require_subcommand(0, 1);
    line.program.set_version_flag("--version", "holdwell " HOLDWELL_VERSION);
    line.program.add_option("--demo", line.window.recording)->check(&no_nothing);
    line.program.add_option("--example", line.window.example)->check(&no_nothing);
    use_help(*line.devices, kDevicesHelp);
}

void describe_measure(CommandLine& line)
{
    MeasureArguments& to = line.measure_arguments;
    use_help(*line.measure, kMeasureHelp);
    line.measure->add_option("--drill", to.drill);
    line.measure->add_option("--target", to.target);
    line.measure->add_option("--band", to.band);
    line.measure->add_option("--bridge", to.bridge);
    line.measure->add_option("--shortest", to.shortest);
    line.measure->add_option("--format", to.format);
    line.measure->add_option("--jobs", to.jobs);
    line.measure->add_flag("--frames", to.frames);
    line.measure->add_option("FILE", to.files);
}

void describe_coach(CommandLine& line)
{
    CoachArguments& to = line.coach_arguments;
    use_help(*line.coach, kCoachHelp);
    line.coach->add_option("--note", to.note);
    line.coach->add_option("--band", to.band);
    line.coach->add_option("--goal", to.goal);
    line.coach->add_option("--trials", to.trials);
    line.coach->add_option("--file", to.file);
    line.coach->add_flag("--fast", to.fast);
    line.coach->add_flag("--silent", to.silent);
    line.coach->add_option("--plan", to.plan);
    line.coach->add_option("--data", to.data)->check(&no_option);
    line.coach->add_flag("--fit", to.fit);
}

// ---- words that were not understood --------------------------------------------------------

// The innermost command that was typed.
const CLI::App& innermost(const CommandLine& line)
{
    const CLI::App* app = &line.program;
    for (auto below = app->get_subcommands(); !below.empty(); below = app->get_subcommands())
        app = below.front();
    return *app;
}

// "holdwell plan check"
std::string name_of_command(const CommandLine& line)
{
    std::string name = "holdwell";
    const CLI::App* app = &line.program;
    for (auto below = app->get_subcommands(); !below.empty(); below = app->get_subcommands()) {
        app = below.front();
        name += " " + app->get_name();
    }
    return name;
}

// The first word that belongs to no option and no command.
std::string first_stranger(const CommandLine& line)
{
    const std::vector<std::string> strangers = line.program.remaining(true);
    return strangers.empty() ? std::string{} : strangers.front();
}

std::vector<std::string> commands_of(const CommandLine& line)
{
    std::vector<std::string> names;
    for (const CLI::App* app : line.program.get_subcommands({})) names.push_back(app->get_name());
    return names;
}

// Of a word where a command, or its second word, was expected: "holdwell plan" and "chekc".
std::string sentence_on_unknown(const std::string& command, const std::string& word,
                                const std::vector<std::string>& known)
{
    const std::string near = near_match(word, known);
    if (!near.empty())
        return fmt::format("{}: there is no \"{}\"; did you mean \"{} {}\"?", command,
                           printable(word), command, near);
    std::string all;
    for (const std::string& one : known) all += (all.empty() ? "" : ", ") + one;
    return fmt::format("{}: there is no \"{}\"; it can be {}", command, printable(word), all);
}

std::string sentence_on(const CLI::ParseError& error, const CommandLine& line)
{
    const std::string command = name_of_command(line);
    const std::string help = fmt::format("\"{} --help\" lists what there is", command);
    const std::string unknown = first_stranger(line);
    const auto verbs = line.records.verbs_of(command);
    if (!verbs.empty() && !unknown.empty() && !unknown.starts_with('-'))
        return sentence_on_unknown(command, unknown, verbs);
    if (error.get_name() == "RequiredError") {
        const std::string missing = line.records.sentence_on_missing(command);
        return fmt::format("{}: {}; {}", command, missing, help);
    }
    if (error.get_name() == "ArgumentMismatch") {
        const std::string what = error.what();
        const std::string option = what.substr(0, what.find_first_of(": "));
        return fmt::format("{}: {} needs one value after it; {}", command, option, help);
    }
    const std::string stranger = printable(unknown);
    if (stranger.starts_with('-'))
        return fmt::format("{}: there is no option {}; {}", command, stranger, help);
    if (!stranger.empty() && command == "holdwell") {
        const std::string near = near_match(stranger, commands_of(line));
        if (!near.empty())
            return fmt::format("holdwell: there is no command \"{}\"; did you mean \"holdwell "
                               "{}\"?",
                               stranger, near);
        return fmt::format("holdwell: there is no command \"{}\"; {}", stranger, help);
    }
    if (!stranger.empty())
        return fmt::format("{}: does not take \"{}\"; {}", command, stranger, help);
    return fmt::format("{}: {}; {}", command, error.what(), help);
}

ExitStatus wrong_usage(const Console& console, const std::string& sentence)
{
    console.err << printable(sentence) << '\n';
    return ExitStatus::wrong_usage;
}

// ---- the commands ---------------------------------------------------------------------------

ExitStatus run_measure(const CommandLine& line, const Console& console)
{
    const auto options = checked(line.measure_arguments);
    if (!options) return wrong_usage(console, "holdwell measure: " + options.error().message);
    if (line.measure_arguments.frames) return print_frames(options.value(), console);
    return measure(options.value(), console);
}

ExitStatus run_coach(const CommandLine& line, const Console& console, const Surroundings& around)
{
    if (line.coach_arguments.plan) {
        const auto plan = checked_for_plan(line.coach_arguments);
        if (!plan) return wrong_usage(console, "holdwell coach: " + plan.error().message);
        return coach_plan(plan.value(), console, around.sound_ports);
    }
    const auto options = checked(line.coach_arguments);
    if (!options) return wrong_usage(console, "holdwell coach: " + options.error().message);
    return coach(options.value(), console, around.sound_ports);
}

ExitStatus open_window(const CommandLine& line, const Console& console, const Surroundings& around)
{
    if (around.open_window) return around.open_window(line.window);
    console.err << "holdwell: this copy was built without its window; use \"holdwell coach\"\n";
    return ExitStatus::trouble;
}

ExitStatus run(const CommandLine& line, const Console& console, const Surroundings& around)
{
    if (line.measure->parsed()) return run_measure(line, console);
    if (line.coach->parsed()) return run_coach(line, console, around);
    if (line.devices->parsed()) return list_devices(console, around.list_microphones);
    if (line.records.is_chosen())
        return line.records.run(console, around.office_settings ? around.office_settings()
                                                                : usual_settings());
    return open_window(line, console, around);
}

// What was said has to have arrived: a full disk behind ">" is no success.
ExitStatus with_all_written(ExitStatus status, const Console& console)
{
    console.out.flush();
    // A command that failed has said why.
    if (console.out.good() || status != ExitStatus::ok) return status;
    console.err << "holdwell: what there is to say could not be written; look whether there is "
                   "space left\n";
    return ExitStatus::trouble;
}

}  // namespace

ExitStatus run_command_line(const std::vector<std::string>& words, const Console& console,
                            const Surroundings& surroundings)
{
    CommandLine line;
    describe_program(line);
    describe_measure(line);
    describe_coach(line);
    try {
        std::vector<std::string> last_first{words.rbegin(), words.rend()};
        line.program.parse(last_first);
    } catch (const CLI::CallForHelp&) {
        console.out << innermost(line).help();
        return with_all_written(ExitStatus::ok, console);
    } catch (const CLI::CallForVersion& version) {
        console.out << version.what() << '\n';
        return with_all_written(ExitStatus::ok, console);
    } catch (const CLI::ParseError& error) {
        return wrong_usage(console, sentence_on(error, line));
    }
    return with_all_written(run(line, console, surroundings), console);
}

}  // namespace holdwell
