#include "app/office/client_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <string>

#include "app/files/plan_file.h"
#include "app/practice/utf8.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostCodeLetters = 40;

Refused nobody() { return {"This client is not in the records; she may have been deleted."}; }

std::string trimmed(const std::string& text)
{
    constexpr const char* kBlank = " \t";
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string::npos) return "";
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

// Capitals do not tell codes apart; letters beyond ASCII are compared as they are.
bool is_same_code(const std::string& a, const std::string& b)
{
    return std::ranges::equal(
        a, b, [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

// Nothing when `client` may be found by her code.
std::optional<Refused> objection_to_code(Store& store, const Client& client)
{
    const std::optional<std::size_t> letters = letters_in(client.code);
    if (!letters || *letters == 0 || *letters > kMostCodeLetters || has_control(client.code))
        return Refused{fmt::format("A client's code has 1 to {} letters or digits, on one line.",
                                   kMostCodeLetters)};
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
    client.code = trimmed(client.code);
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
    opened.clips = desk.keeper.clips_of(request.client);
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
