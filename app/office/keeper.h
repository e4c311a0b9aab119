#pragma once
// Keeps what is practised: on disk when that can be done, in memory until then. A full disk or a
// folder that cannot be written never stops a practice; whatever is held is stored, in its order,
// as soon as it can be.
//
// State: the store, if it could be opened, and what is held.

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/office/held.h"
#include "app/store/store.h"

namespace holdwell {

class Keeper {
public:
    // `folder` is where the records are; empty: nowhere.
    explicit Keeper(std::filesystem::path folder);

    // Opens the store if it is not open, and stores what is held. Called before every request.
    void try_again();

    // Nothing when it cannot even be read.
    Store* store() { return store_ ? &*store_ : nullptr; }
    // Why not all is on disk; empty: it is.
    const std::string& trouble() const { return trouble_; }
    // The same for whoever practises; empty: all is well.
    std::string notice() const;
    bool holds_something() const { return !held_.empty(); }

    // Stored or held: never lost while the program runs.
    void keep(Held record);
    // Nothing of it is kept any more, stored or held. A fault when it is on a disk that cannot be
    // written: it stays.
    Outcome take_out(const Id& practice);
    // A change that is made on disk or not at all.
    Outcome change(const std::function<Outcome(Store&)>& made);

    // With what is held.
    Result<std::optional<ClientFile>> client_file(const Id& client);
    Result<std::optional<ClientFile>> client_and_plans(const Id& client);
    Result<std::optional<Practice>> practice(const Id& practice);
    Result<std::optional<Id>> home();
    ClipsHeld clips_of(const Id& client);
    std::vector<HandedOut> handed_out(const Id& client);  // none where it cannot be read

    std::filesystem::path folder() const { return folder_; }
    std::int64_t bytes_on_disk() const;

private:
    enum class Access { none, reading, writing };
    void open();
    void store_held();
    // Whose practices were held under a name that had to be made up.
    Id known_as(const Id& client) const { return client == made_up_ ? home_ : client; }

    std::filesystem::path folder_;
    std::filesystem::path file_;
    std::optional<Store> store_;
    Access access_{Access::none};
    std::vector<Held> held_;
    std::string trouble_;
    Id made_up_;  // see known_as(); empty: nobody
    Id home_;
};

}  // namespace holdwell
