#pragma once
// The records on disk: one SQLite file. Every call that returns well is durable (WAL, synchronous
// FULL), so that a crash or a closed lid loses at most the trial under way.
//
// The file has mode 0600, its folder 0700. A file of a newer version is refused politely; an older
// one is migrated, one numbered step at a time, inside one transaction.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/practice/additions.h"
#include "app/practice/records.h"

namespace holdwell {

inline constexpr int kStoreVersion = 1;

class Store {
public:
    // Makes the file and its folder when they are missing.
    static Result<Store> open(const std::filesystem::path& file);
    // The same in memory, gone when it is closed.
    static Result<Store> open_in_memory();
    ~Store();
    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;

    // A record with an id that is there already takes its place.
    Outcome keep(const Client& client);
    Outcome keep(const Id& client, const Plan& plan);
    // Without its trials when there are none in it; with them all in one transaction.
    Outcome keep(const Practice& practice);
    Outcome keep(const Id& practice, const Trial& trial);
    Outcome keep(const Clip& clip, Date made);
    // All of it in one transaction, or nothing.
    Outcome keep(const Additions& additions);

    Result<std::vector<Client>> clients();
    Result<std::optional<ClientFile>> client_file(const Id& client);
    Result<std::vector<RosterLine>> roster(Date today);
    Result<std::optional<Clip>> clip(const Id& trial);
    Result<ClipsHeld> clips_of(const Id& client);
    // Whose the plan (in any revision), practice or trial with this id is, found by an index;
    // absent when nobody's, or a plan's that several clients were given.
    Result<std::optional<Id>> owner_of_plan(const Id& plan);
    Result<std::optional<Id>> owner_of_practice(const Id& practice);
    Result<std::optional<Id>> owner_of_trial(const Id& trial);

    // Everything of hers, clips too; overwritten on disk (secure_delete).
    Outcome remove_client(const Id& client);
    Outcome remove_clips(const Id& client);
    Outcome remove_clips_made_before(const Id& client, Date day);

    // The client who practises on this computer.
    Result<std::optional<Id>> home_client();
    Outcome set_home_client(const Id& client);

private:
    struct State;
    explicit Store(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
