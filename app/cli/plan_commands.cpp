#include "app/cli/plan_commands.h"

#include <fmt/format.h>

#include "app/cli/plan_text.h"
#include "app/files/plan_file.h"

namespace holdwell {

namespace {

std::string sentence_on(const std::string& path, const Fault& fault)
{
    // A file that could not be read is named by the sentence itself.
    const bool names_it = fault.place.empty() && fault.sentence.starts_with(path);
    return names_it ? fault.sentence : fmt::format("{}: {}", path, in_words(fault));
}

// The sentence for its first fault, when it is none.
Result<Plan> plan_in(const std::string& path)
{
    PlanReading reading = load_plan(path);
    if (reading.plan) return std::move(*reading.plan);
    return Error{sentence_on(path, reading.faults.front())};
}

Result<Plan> plan_in_force(RecordsRun& run)
{
    const auto client = run.client();
    if (!client) return client.error();
    auto opened = run.ask<ClientOpened>(OpenClient{client.value().client});
    if (!opened) return opened.error();
    if (opened.value().file.plans.empty())
        return Error{fmt::format("\"{}\" has no plan yet", client.value().code)};
    return opened.value().file.plans.back();
}

bool is_this_template(const Plan& plan, const std::string& wanted, std::size_t number)
{
    return plan.title == wanted || fmt::to_string(number) == wanted;
}

}  // namespace

ExitStatus check_plans(RecordsRun& run)
{
    ExitStatus status = ExitStatus::ok;
    for (const std::string& path : run.arguments().words) {
        const PlanReading reading = load_plan(path);
        for (const Fault& fault : reading.faults) status = run.trouble(sentence_on(path, fault));
        if (reading.plan)
            run.say(fmt::format("{}: this plan can be practised, {} a time", path,
                                counted(static_cast<long long>(trials_of(*reading.plan).size()),
                                        "trial", "trials")));
    }
    return status;
}

ExitStatus show_plan(RecordsRun& run)
{
    const auto& words = run.arguments().words;
    if (words.size() > 1) return run.wrong_usage("name one plan at a time");
    const auto plan = words.empty() ? plan_in_force(run) : plan_in(words.front());
    if (!plan) return run.trouble(plan.error().message);
    run.print(text_of_plan(plan.value()));
    return ExitStatus::ok;
}

ExitStatus list_templates(RecordsRun& run)
{
    const auto form = run.form();
    if (!form) return run.wrong_usage(form.error().message);
    const auto listed = run.ask<TemplatesListed>(ListTemplates{});
    if (!listed) return run.trouble(listed.error().message);
    Listing list{.columns = {{"number", ""},
                             {"title", "plan"},
                             {"trials", "trials"},
                             {"practices_a_day", "a day"},
                             {"weeks", "weeks"}},
                 .rows = {}};
    for (const Plan& plan : listed.value().plans)
        list.rows.push_back({static_cast<int>(list.rows.size()) + 1, plan.title,
                             static_cast<int>(trials_of(plan).size()), plan.practices_a_day,
                             plan.weeks});
    run.print(written(list, form.value()));
    if (!list.rows.empty()) return ExitStatus::ok;
    return run.trouble("no plans to begin from were found beside the program");
}

ExitStatus print_new_plan(RecordsRun& run)
{
    const auto listed = run.ask<TemplatesListed>(ListTemplates{});
    if (!listed) return run.trouble(listed.error().message);
    const std::string& wanted = run.arguments().words.front();
    std::size_t number = 0;
    for (Plan plan : listed.value().plans) {
        if (!is_this_template(plan, wanted, ++number)) continue;
        plan.id = run.settings().new_id();
        plan.revision = 1;
        plan.written = run.settings().now().date;
        run.print(as_json(plan));
        return ExitStatus::ok;
    }
    return run.trouble(
        fmt::format("there is no template \"{}\"; \"holdwell plan templates\" names them", wanted));
}

}  // namespace holdwell
