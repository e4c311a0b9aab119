#include "app/cli/exchange_commands.h"

#include <fmt/format.h>

#include "app/cli/plan_text.h"

namespace holdwell {

namespace {

DateForm dates_of(const RecordsArguments& arguments)
{
    return arguments.day_numbers ? DateForm::day_numbers : DateForm::dates;
}

ExitStatus write(RecordsRun& run, const Request& request)
{
    const auto written = run.ask<Written>(request);
    if (!written) return run.trouble(written.error().message);
    run.say(written.value().path.string());
    run.say(written.value().holds);
    return ExitStatus::ok;
}

// The client and the passphrase that an export needs, then its request.
template <typename Make>
ExitStatus export_with(RecordsRun& run, Make make)
{
    const auto passphrase = run.passphrase();
    if (!passphrase) return run.trouble(passphrase.error().message);
    const auto client = run.client();
    if (!client) return run.trouble(client.error().message);
    return write(run, make(client.value().client, passphrase.value()));
}

// ---- import ------------------------------------------------------------------------------------

Result<PreviewImport> preview_request(RecordsRun& run)
{
    PreviewImport request{.path = run.arguments().words.front()};
    const auto passphrase = run.passphrase();
    if (!passphrase) return passphrase.error();
    request.passphrase = passphrase.value();
    const auto day_one = run.day("--day-one", run.arguments().day_one);
    if (!day_one) return day_one.error();
    request.day_one = day_one.value();
    if (run.arguments().client.empty()) return request;
    const auto client = run.client();
    if (!client) return client.error();
    request.into = client.value().client;
    return request;
}

// A command is told its passphrase otherwise than a person at a screen.
Result<ImportPreviewed> preview_of(RecordsRun& run, const PreviewImport& request)
{
    Answer answer = run.office().answer(request);
    const auto* refused = std::get_if<Refused>(&answer);
    if (refused != nullptr && refused->wants_passphrase && request.passphrase.empty())
        return Error{fmt::format("{} is sealed; name a file that holds its passphrase with "
                                 "--passphrase-file",
                                 request.path.string())};
    if (refused != nullptr) return Error{refused->sentence};
    return std::move(std::get<ImportPreviewed>(answer));
}

void say_practices(const RecordsRun& run, const ImportPreviewed& preview)
{
    run.say(fmt::format("Practices of \"{}\"{}.", preview.client_code,
                        preview.client_is_new ? ", who is new here" : ""));
    run.say(fmt::format("New: {} and {}.", counted(preview.new_practices, "practice", "practices"),
                        counted(preview.new_trials, "trial", "trials")));
    if (preview.already_here > 0)
        run.say(fmt::format("Here already, and left as they are: {}.",
                            counted(preview.already_here, "practice", "practices")));
    if (preview.has_numbered_days && run.arguments().day_one.empty())
        run.say("The file counts days instead of dates; --day-one says on which date its day 1 "
                "stands.");
}

void say_preview(const RecordsRun& run, const ImportPreviewed& preview)
{
    if (preview.carries == Carries::plan)
        run.say(fmt::format("A plan for \"{}\".", preview.client_code));
    else
        say_practices(run, preview);
    for (const std::string& conflict : preview.conflicts) run.say(conflict);
    for (const std::string& note : preview.notes) run.say(note);
    if (!preview.plan) return;
    run.say("This plan comes into force:");
    run.print(text_of_plan(*preview.plan));
}

ExitStatus confirm(RecordsRun& run)
{
    const auto imported = run.ask<Imported>(ConfirmImport{});
    if (!imported) return run.trouble(imported.error().message);
    const int practices = imported.value().practices;
    const int plans = imported.value().plans;
    if (practices == 0 && plans == 0) run.say("There was nothing new in it.");
    if (practices > 0) run.say("Taken in: " + counted(practices, "practice", "practices") + ".");
    if (plans > 0) run.say("Taken in: " + counted(plans, "plan", "plans") + ".");
    return ExitStatus::ok;
}

}  // namespace

ExitStatus export_plan(RecordsRun& run)
{
    return export_with(run, [&](const Id& client, const std::string& passphrase) {
        return ExportPlan{.client = client, .path = run.arguments().out, .passphrase = passphrase};
    });
}

ExitStatus export_practices(RecordsRun& run)
{
    const auto clips =
        run.arguments().with_voice ? ClipsInExport::included : ClipsInExport::left_out;
    return export_with(run, [&](const Id& client, const std::string& passphrase) {
        return ExportPractices{.client = client,
                               .path = run.arguments().out,
                               .passphrase = passphrase,
                               .dates = dates_of(run.arguments()),
                               .clips = clips};
    });
}

ExitStatus export_table(RecordsRun& run)
{
    const auto client = run.client();
    if (!client) return run.trouble(client.error().message);
    return write(run, WriteTable{.client = client.value().client,
                                 .path = run.arguments().out,
                                 .dates = dates_of(run.arguments())});
}

ExitStatus import_file(RecordsRun& run)
{
    if (run.arguments().words.size() > 1) return run.wrong_usage("name one file at a time");
    if (const auto day_one = run.day("--day-one", run.arguments().day_one); !day_one)
        return run.wrong_usage(day_one.error().message);
    const auto request = preview_request(run);
    if (!request) return run.trouble(request.error().message);
    const auto preview = preview_of(run, request.value());
    if (!preview) return run.trouble(preview.error().message);
    say_preview(run, preview.value());
    if (run.arguments().yes) return confirm(run);
    run.say("Nothing was changed; add --yes to take this in.");
    return ExitStatus::ok;
}

ExitStatus write_report(RecordsRun& run)
{
    const auto from = run.day("--from", run.arguments().from);
    if (!from) return run.wrong_usage(from.error().message);
    const auto until = run.day("--until", run.arguments().until);
    if (!until) return run.wrong_usage(until.error().message);
    if (from.value() && until.value() && *until.value() < *from.value())
        return run.wrong_usage("--until is before --from; exchange them");
    const auto client = run.client();
    if (!client) return run.trouble(client.error().message);
    return write(run, WriteReport{.client = client.value().client,
                                  .path = run.arguments().out,
                                  .from = from.value(),
                                  .to = until.value(),
                                  .dates = dates_of(run.arguments()),
                                  .name = run.arguments().name});
}

}  // namespace holdwell
