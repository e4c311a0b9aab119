#include "app/office/client_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "app/files/plan_file.h"
#include "app/practice/client_code.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

Refused nobody() { return {"This client is not in the records; she may have been deleted."}; }

// Nothing when `client` may be found by her code.
std::optional<Refused> objection_to_code(Store& store, const Client& client)
{
    const std::string fault = fault_of_code(client.code);
    if (!fault.empty()) return Refused{fault};
    const auto clients = store.clients();
    if (!clients) return Refused{clients.error().message};
    for (const Client& other : clients.value()) {
        if (other.id != client.id && is_same_code(other.code, client.code))
            return Refused{
                fmt::format("There is a client \"{}\" already; choose another code.", other.code)};
    }
    return std::nullopt;
}

// `client` with her code checked, kept.
template <typename Kept>
Answer keep_with_code(Desk& desk, Client client)
{
    client.code = trimmed_code(client.code);
    std::optional<Refused> objection;
    const Outcome kept = desk.keeper.change([&](Store& store) -> Outcome {
        objection = objection_to_code(store, client);
        return objection ? Outcome{Done{}} : store.keep(client);
    });
    if (objection) return *objection;
    if (!kept) return Refused{kept.error().message};
    return Kept{client};
}

// The id that it has, or a new one; and the revision after the last one of that id.
Plan next_revision(const Desk& desk, Plan plan, const std::vector<Plan>& there)
{
    if (plan.id.text.empty()) plan.id = desk.settings.new_id();
    int last = 0;
    for (const Plan& other : there)
        if (other.id == plan.id) last = std::max(last, other.revision);
    plan.revision = last + 1;
    plan.written = desk.settings.now().date;
    return plan;
}

std::vector<fs::path> json_files_in(const fs::path& folder)
{
    std::vector<fs::path> files;
    std::error_code ignored;  // without the folder there are none
    for (const auto& entry : fs::directory_iterator{folder, ignored})
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    std::ranges::sort(files);
    return files;
}

}  // namespace

Answer answer(Desk& desk, const ListClients&)
{
    Store* store = desk.keeper.store();
    if (store == nullptr) return Refused{desk.keeper.trouble()};
    const Date today = desk.settings.now().date;
    auto lines = store->roster(today);
    if (!lines) return Refused{lines.error().message};
    return ClientsListed{std::move(lines.value()), today};
}

Answer answer(Desk& desk, const OpenClient& request)
{
    auto file = desk.keeper.client_file(request.client);
    if (!file) return Refused{file.error().message};
    if (!file.value()) return nobody();
    let_clips_expire(desk, *file.value());
    ClientOpened opened;
    opened.lasting = desk.settings.lasting;
    opened.clips = desk.keeper.clips_of(request.client);
    opened.handed_out = desk.keeper.handed_out(request.client);
    opened.file = std::move(*file.value());
    opened.today = desk.settings.now().date;
    return opened;
}

Answer answer(Desk& desk, const AddClient& request)
{
    Client client;
    client.id = desk.settings.new_id();
    client.code = request.code;
    client.since = desk.settings.now().date;
    return keep_with_code<ClientAdded>(desk, client);
}

Answer answer(Desk& desk, const ChangeClient& request)
{
    const auto there = desk.keeper.client_and_plans(request.client.id);
    if (!there) return Refused{there.error().message};
    if (!there.value()) return nobody();
    return keep_with_code<ClientChanged>(desk, request.client);
}

Answer answer(Desk& desk, const DeleteClient& request)
{
    const Outcome removed =
        desk.keeper.change([&](Store& store) { return store.remove_client(request.client); });
    if (!removed) return Refused{removed.error().message};
    return ClientDeleted{request.client};
}

Answer answer(Desk& desk, const DeleteClips& request)
{
    const Outcome removed =
        desk.keeper.change([&](Store& store) { return store.remove_clips(request.client); });
    if (!removed) return Refused{removed.error().message};
    return answer(desk, OpenClient{request.client});
}

Answer answer(Desk& desk, const SavePlan& request)
{
    const std::vector<Fault> faults = faults_of(request.plan);
    if (!faults.empty()) return Refused{in_words(faults.front())};
    const auto there = desk.keeper.client_and_plans(request.client);
    if (!there) return Refused{there.error().message};
    if (!there.value()) return nobody();
    const Plan plan = next_revision(desk, request.plan, there.value()->plans);
    const Outcome kept =
        desk.keeper.change([&](Store& store) { return store.keep(request.client, plan); });
    if (!kept) return Refused{kept.error().message};
    return PlanSaved{request.client, plan};
}

Answer answer(Desk& desk, const SetGoal& request)
{
    const std::vector<Fault> faults = faults_of(request.goal);
    if (!faults.empty()) return Refused{in_words(faults.front())};
    const ClientGoal goal{
        .id = desk.settings.new_id(), .goal = request.goal, .set_on = desk.settings.now().date};
    const Outcome kept =
        desk.keeper.change([&](Store& store) { return store.keep(request.client, goal); });
    if (!kept) return Refused{kept.error().message};
    return answer(desk, OpenClient{request.client});
}

Answer answer(Desk& desk, const WithdrawGoal& request)
{
    const auto there = desk.keeper.client_and_plans(request.client);
    if (!there) return Refused{there.error().message};
    if (!there.value()) return nobody();
    const auto& goals = there.value()->goals;
    const auto goal = std::ranges::find(goals, request.goal, &ClientGoal::id);
    if (goal == goals.end()) return Refused{"This goal is not in the records."};
    ClientGoal withdrawn = *goal;
    if (!withdrawn.withdrawn_on) withdrawn.withdrawn_on = desk.settings.now().date;
    const Outcome kept =
        desk.keeper.change([&](Store& store) { return store.keep(request.client, withdrawn); });
    if (!kept) return Refused{kept.error().message};
    return answer(desk, OpenClient{request.client});
}

Answer answer(Desk& desk, const ListTemplates&)
{
    TemplatesListed listed;
    for (const fs::path& file : json_files_in(desk.settings.templates_folder)) {
        // One that cannot be read is no plan to begin from; `plan check` says what is wrong with
        // it.
        const PlanReading reading = load_plan(file);
        if (reading.plan) listed.plans.push_back(*reading.plan);
    }
    return listed;
}

void let_clips_expire(Desk& desk, const ClientFile& file)
{
    if (desk.keeper.clips_of(file.client.id).count == 0) return;
    const int days =
        file.plans.empty() ? Plan{}.keep_audio_days : file.plans.back().keep_audio_days;
    const Date first_kept = day_after(desk.settings.now().date, -std::chrono::days{days});
    // On a disk that cannot be written they stay until the next time.
    (void)desk.keeper.change(
        [&](Store& store) { return store.remove_clips_made_before(file.client.id, first_kept); });
}

}  // namespace holdwell
