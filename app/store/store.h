#pragma once
// The records on disk: one SQLite file. Every call that returns well is durable (WAL, synchronous
// FULL), so that a crash or a closed lid loses at most the trial under way.
//
// The file has mode 0600, a folder made for it 0700. A file of a newer version is refused politely;
// an older one is migrated, one numbered step at a time, inside one transaction. Two programs may
// have the same file open; one waits for the other for as long as kPatience.
//
// Plans are columns too, not a text of another format: the store then needs no reader of such a
// text, the file is checked by its own constraints, and a clinic can query all of it.

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/practice/additions.h"
#include "app/practice/records.h"

namespace holdwell {

inline constexpr int kStoreVersion = 4;
inline constexpr std::chrono::milliseconds kPatience{3000};

class Store {
public:
    // Makes the file and its folder when they are missing.
    static Result<Store> open(const std::filesystem::path& file);
    // A file that can be read but not written: every keep() and remove() fails and says why.
    static Result<Store> open_to_read(const std::filesystem::path& file);
    // The same in memory, gone when it is closed.
    static Result<Store> open_in_memory();
    ~Store();
    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;

    // A record with an id that is there already takes its place. A plan is the same only in the
    // same revision; a new one stands after those that are there, and so comes into force. Of a
    // client's plans the one in force alone keeps its models.
    Outcome keep(const Client& client);
    Outcome keep(const Id& client, const Plan& plan);
    // Trials that are there and not in it stay. All in one transaction.
    Outcome keep(const Practice& practice);
    Outcome keep(const Id& practice, const Trial& trial);
    Outcome keep(const Id& practice, const Clip& clip, Date made);
    Outcome keep(const Id& client, const ClientGoal& goal);
    Outcome keep(const Id& client, const HandedOut& file);
    // All of it in one transaction, or nothing.
    Outcome keep(const Additions& additions);

    Result<std::vector<Client>> clients();  // by code
    Result<std::optional<ClientFile>> client_file(const Id& client);
    // The same without her practices: quick, however long she has practised.
    Result<std::optional<ClientFile>> client_and_plans(const Id& client);
    Result<std::optional<Practice>> practice(const Id& practice);
    Result<std::vector<RosterLine>> roster(Date today);  // by code
    Result<std::optional<Clip>> clip(const Id& trial);
    Result<ClipsHeld> clips_of(const Id& client);
    Result<std::vector<HandedOut>> handed_out(const Id& client);  // in the order they went
    // Whose the plan (in any revision), practice or trial with this id is, found by an index;
    // absent when nobody's, or a plan's that several clients were given.
    Result<std::optional<Id>> owner_of_plan(const Id& plan);
    Result<std::optional<Id>> owner_of_practice(const Id& practice);
    Result<std::optional<Id>> owner_of_trial(const Id& trial);

    // Everything of hers, clips too; overwritten on disk (secure_delete). It is no fault when there
    // is nothing to remove.
    Outcome remove_client(const Id& client);
    Outcome remove_practice(const Id& practice);
    Outcome remove_clips(const Id& client);
    Outcome remove_clips_made_before(const Id& client, Date day);

    // The client who practises on this computer; she need not be there yet.
    Result<std::optional<Id>> home_client();
    Outcome set_home_client(const Id& client);

private:
    struct State;
    explicit Store(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
