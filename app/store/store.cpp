#include "app/store/store.h"

#include <fmt/format.h>

#include <utility>

#include "app/store/opening.h"
#include "app/store/rows.h"

namespace holdwell {

namespace fs = std::filesystem;

struct Store::State {
    fs::path file;
    std::unique_ptr<Connection> connection;

    // What `work` gives, or why it could not: the one place where SQLite's exceptions end.
    template <typename Work>
    auto attempt(const Work& work) -> Result<decltype(work(*connection))>
    {
        try {
            auto value = work(*connection);
            if (const std::string damage = connection->take_damage(); !damage.empty())
                return Error{fmt::format("{} is damaged: {}; put a copy in its place.",
                                         file.string(), damage)};
            return value;
        } catch (const SQLite::Exception& exception) {
            return refusal(exception, file);
        }
    }

    // All of `work` or nothing of it. Begun as a writer at once, so that it need not become one
    // half-way, which SQLite refuses when another program was quicker.
    template <typename Work>
    Outcome change(const Work& work)
    {
        auto outcome = attempt([&](Connection& c) -> Outcome {
            SQLite::Transaction transaction{c.database(), SQLite::TransactionBehavior::IMMEDIATE};
            Outcome done = work(c);
            if (done) transaction.commit();
            return done;
        });
        if (!outcome) return outcome.error();
        return outcome.value();
    }

    // Rows that were removed are overwritten in the file (secure_delete); the journal still has
    // them until it is emptied. Another program that reads just now keeps it from being emptied;
    // then the next one to close the file does it.
    void empty_journal()
    {
        (void)attempt([](Connection& c) {
            c.database().exec("PRAGMA wal_checkpoint(TRUNCATE)");
            return Done{};
        });
    }
};

namespace {

Error no_client(const Id& client)
{
    return {fmt::format("There is no client {} in these records.", client.text)};
}

Error no_practice(const Id& practice)
{
    return {fmt::format("There is no practice {} in these records.", practice.text)};
}

// `work` with her key, when she is there.
template <typename Work>
Outcome with_client(Connection& connection, const Id& client, const Work& work)
{
    const auto key = key_of_client(connection, client);
    if (!key) return no_client(client);
    work(*key);
    return Done{};
}

template <typename Work>
Outcome with_practice(Connection& connection, const Id& practice, const Work& work)
{
    const auto key = key_of_practice(connection, practice);
    if (!key) return no_practice(practice);
    work(*key);
    return Done{};
}

// Of trials that are there and not in the practice to be kept.
enum class OtherTrials { stay, go };

Outcome keep_practice(Connection& connection, ClientKey client, const Practice& practice,
                      OtherTrials others)
{
    const auto there = key_of_practice(connection, practice.id);
    if (there && there->client.value != client.value)
        return Error{fmt::format("The practice {} is another client's.", practice.id.text)};
    const PracticeKey key = keep_practice_row(connection, client, practice);
    if (others == OtherTrials::go) remove_trials(connection, key);
    for (const Trial& trial : practice.trials) keep_trial(connection, key, trial);
    sum_up(connection, key);
    return Done{};
}

Outcome keep_additions(Connection& connection, const Additions& additions)
{
    keep_client(connection, additions.client);
    const ClientKey client = *key_of_client(connection, additions.client.id);
    // Each goes before those that are there: the oldest comes last.
    for (auto plan = additions.earlier_plans.rbegin(); plan != additions.earlier_plans.rend();
         ++plan)
        keep_plan(connection, client, *plan, PlanPlace::before_all);
    for (const Plan& plan : additions.plans)
        keep_plan(connection, client, plan, PlanPlace::after_all);
    for (const Practice& practice : additions.practices) {
        Outcome kept = keep_practice(connection, client, practice, OtherTrials::go);
        if (!kept) return kept;
    }
    for (const ClientGoal& goal : additions.goals) keep_goal(connection, client, goal);
    for (const ClipAdded& added : additions.clips) add_clip(connection, client, added);
    return Done{};
}

enum class Depth { plans_only, practices_too };

std::optional<ClientFile> read_file(Connection& connection, const Id& client, Depth depth)
{
    // One transaction, so that another program's change falls before or after all of it.
    const SQLite::Transaction transaction{connection.database()};
    const auto key = key_of_client(connection, client);
    if (!key) return std::nullopt;
    ClientFile file;
    file.client = *read_client(connection, client);
    file.plans = read_plans(connection, *key);
    file.goals = read_goals(connection, *key);
    if (depth == Depth::practices_too) file.practices = read_practices(connection, *key);
    return file;
}

}  // namespace

Store::Store(std::unique_ptr<State> state) : state_{std::move(state)} {}
Store::~Store() = default;
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;

// ---- opening ---------------------------------------------------------------------------------

Result<Store> Store::open(const fs::path& file)
{
    Opened opened = open_file(file);
    if (!opened) return opened.error();
    return Store{std::make_unique<State>(State{file, std::move(opened.value())})};
}

Result<Store> Store::open_to_read(const fs::path& file)
{
    Opened opened = open_file_to_read(file);
    if (!opened) return opened.error();
    return Store{std::make_unique<State>(State{file, std::move(opened.value())})};
}

Result<Store> Store::open_in_memory()
{
    Opened opened = open_memory();
    if (!opened) return opened.error();
    return Store{std::make_unique<State>(State{"memory", std::move(opened.value())})};
}

// ---- keeping ---------------------------------------------------------------------------------

Outcome Store::keep(const Client& client)
{
    return state_->change([&](Connection& c) -> Outcome {
        keep_client(c, client);
        return Done{};
    });
}

Outcome Store::keep(const Id& client, const Plan& plan)
{
    Outcome kept = state_->change([&](Connection& c) {
        return with_client(c, client,
                           [&](ClientKey key) { keep_plan(c, key, plan, PlanPlace::after_all); });
    });
    state_->empty_journal();  // of the models of the plan before
    return kept;
}

Outcome Store::keep(const Practice& practice)
{
    return state_->change([&](Connection& c) -> Outcome {
        const auto client = key_of_client(c, practice.client);
        if (!client) return no_client(practice.client);
        return keep_practice(c, *client, practice, OtherTrials::stay);
    });
}

Outcome Store::keep(const Id& practice, const Trial& trial)
{
    return state_->change([&](Connection& c) {
        return with_practice(c, practice, [&](PracticeKey key) {
            keep_trial(c, key, trial);
            sum_up(c, key);
        });
    });
}

Outcome Store::keep(const Id& practice, const Clip& clip, Date made)
{
    return state_->change([&](Connection& c) {
        return with_practice(c, practice, [&](PracticeKey key) {
            keep_clip(c, key.client, {clip, made});
        });
    });
}

Outcome Store::keep(const Id& client, const ClientGoal& goal)
{
    return state_->change([&](Connection& c) {
        return with_client(c, client, [&](ClientKey key) { keep_goal(c, key, goal); });
    });
}

Outcome Store::keep(const Id& client, const HandedOut& file)
{
    return state_->change([&](Connection& c) {
        return with_client(c, client, [&](ClientKey key) { keep_handed_out(c, key, file); });
    });
}

Outcome Store::keep(const Additions& additions)
{
    Outcome kept = state_->change([&](Connection& c) { return keep_additions(c, additions); });
    if (!additions.plans.empty()) state_->empty_journal();  // as above
    return kept;
}

Outcome Store::set_home_client(const Id& client)
{
    return state_->change([&](Connection& c) -> Outcome {
        keep_home(c, client);
        return Done{};
    });
}

// ---- reading ---------------------------------------------------------------------------------

Result<std::vector<Client>> Store::clients()
{
    return state_->attempt([](Connection& c) {
        const SQLite::Transaction transaction{c.database()};
        std::vector<Client> clients;
        for (const Id& id : read_client_ids(c)) clients.push_back(*read_client(c, id));
        return clients;
    });
}

Result<std::optional<ClientFile>> Store::client_file(const Id& client)
{
    return state_->attempt(
        [&](Connection& c) { return read_file(c, client, Depth::practices_too); });
}

Result<std::optional<ClientFile>> Store::client_and_plans(const Id& client)
{
    return state_->attempt([&](Connection& c) { return read_file(c, client, Depth::plans_only); });
}

Result<std::optional<Practice>> Store::practice(const Id& practice)
{
    return state_->attempt([&](Connection& c) -> std::optional<Practice> {
        const SQLite::Transaction transaction{c.database()};
        const auto key = key_of_practice(c, practice);
        return key ? read_practice(c, *key) : std::nullopt;
    });
}

Result<std::vector<RosterLine>> Store::roster(Date today)
{
    return state_->attempt([&](Connection& c) {
        const SQLite::Transaction transaction{c.database()};
        return read_roster(c, today);
    });
}

Result<std::optional<Clip>> Store::clip(const Id& trial)
{
    return state_->attempt([&](Connection& c) { return read_clip(c, trial); });
}

Result<ClipsHeld> Store::clips_of(const Id& client)
{
    return state_->attempt([&](Connection& c) {
        const auto key = key_of_client(c, client);
        return key ? clips_held(c, *key) : ClipsHeld{};
    });
}

Result<std::vector<HandedOut>> Store::handed_out(const Id& client)
{
    return state_->attempt([&](Connection& c) {
        const auto key = key_of_client(c, client);
        return key ? read_handed_out(c, *key) : std::vector<HandedOut>{};
    });
}

Result<std::optional<Id>> Store::owner_of_plan(const Id& plan)
{
    return state_->attempt([&](Connection& c) { return read_owner_of_plan(c, plan); });
}

Result<std::optional<Id>> Store::owner_of_practice(const Id& practice)
{
    return state_->attempt([&](Connection& c) { return read_owner_of_practice(c, practice); });
}

Result<std::optional<Id>> Store::owner_of_trial(const Id& trial)
{
    return state_->attempt([&](Connection& c) { return read_owner_of_trial(c, trial); });
}

Result<std::optional<Id>> Store::home_client()
{
    return state_->attempt([](Connection& c) { return read_home(c); });
}

// ---- removing --------------------------------------------------------------------------------

Outcome Store::remove_client(const Id& client)
{
    Outcome removed = state_->change([&](Connection& c) -> Outcome {
        if (const auto key = key_of_client(c, client)) remove_client_rows(c, *key);
        return Done{};
    });
    state_->empty_journal();
    return removed;
}

Outcome Store::remove_practice(const Id& practice)
{
    return state_->change([&](Connection& c) -> Outcome {
        if (const auto key = key_of_practice(c, practice)) remove_practice_rows(c, *key);
        return Done{};
    });
}

Outcome Store::remove_clips(const Id& client)
{
    Outcome removed = state_->change([&](Connection& c) -> Outcome {
        if (const auto key = key_of_client(c, client)) remove_clip_rows(c, *key);
        return Done{};
    });
    state_->empty_journal();
    return removed;
}

Outcome Store::remove_clips_made_before(const Id& client, Date day)
{
    Outcome removed = state_->change([&](Connection& c) -> Outcome {
        if (const auto key = key_of_client(c, client)) remove_clip_rows_before(c, *key, day);
        return Done{};
    });
    state_->empty_journal();
    return removed;
}

}  // namespace holdwell
