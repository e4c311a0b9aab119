#include "app/office/keeper.h"

#include <fmt/format.h>

#include <system_error>
#include <utility>

namespace holdwell {
namespace {

namespace fs = std::filesystem;

// Whether what it belongs to is still there: another program may have deleted it meanwhile. A
// store that gives no answer is no sign of that.
bool is_orphan(Store& store, const Held& record)
{
    if (const auto* held = std::get_if<HeldPractice>(&record)) {
        const auto client = store.client_and_plans(held->practice.client);
        return client && !client.value();
    }
    const auto* trial = std::get_if<HeldTrial>(&record);
    const auto* clip = std::get_if<HeldClip>(&record);
    if (trial == nullptr && clip == nullptr) return false;
    const auto owner = store.owner_of_practice(trial != nullptr ? trial->practice : clip->practice);
    return owner && !owner.value();
}

struct Storing {
    Store& store;
    Outcome operator()(const HeldHome& home) const
    {
        // In this order a crash in between leaves a name without a client, which the next start
        // fills.
        Outcome named = store.set_home_client(home.client.id);
        if (!named) return named;
        Additions all;
        all.client = home.client;
        all.plans = {home.plan};
        return store.keep(all);
    }
    Outcome operator()(const HeldPractice& held) const { return store.keep(held.practice); }
    Outcome operator()(const HeldTrial& held) const
    {
        return store.keep(held.practice, held.trial);
    }
    Outcome operator()(const HeldClip& held) const
    {
        return store.keep(held.practice, held.clip, held.made);
    }
};

}  // namespace

Keeper::Keeper(fs::path folder) : folder_{std::move(folder)}, file_{folder_ / "records.sqlite"}
{
    try_again();
}

void Keeper::open()
{
    if (folder_.empty()) {
        trouble_ = "There is no home folder to keep records in.";
        return;
    }
    Result<Store> opened = Store::open(file_);
    if (opened) {
        store_ = std::move(opened.value());
        access_ = Access::writing;
        trouble_.clear();
        return;
    }
    trouble_ = opened.error().message;
    if (access_ == Access::reading) return;
    Result<Store> readable = Store::open_to_read(file_);
    if (!readable) return;
    store_ = std::move(readable.value());
    access_ = Access::reading;
}

void Keeper::try_again()
{
    if (access_ != Access::writing) open();
    if (access_ == Access::writing) store_held();
}

void Keeper::store_held()
{
    if (const std::optional<Id> made_up = home_in(held_)) {
        const auto home = store_->home_client();
        if (home && home.value() && *home.value() != *made_up) {
            made_up_ = *made_up;
            home_ = *home.value();
            held_ = given_to(home_, std::move(held_));
        }
    }
    while (!held_.empty()) {
        const Outcome stored = std::visit(Storing{*store_}, held_.front());
        if (!stored && !is_orphan(*store_, held_.front())) {
            trouble_ = stored.error().message;
            return;
        }
        held_.erase(held_.begin());
    }
    trouble_.clear();
}

std::string Keeper::notice() const
{
    if (trouble_.empty()) return "";
    return fmt::format(
        "What you practise is kept in memory for now. {} It is saved as soon as that is put "
        "right; please leave Holdwell open until then.",
        trouble_);
}

void Keeper::keep(Held record)
{
    if (auto* practice = std::get_if<HeldPractice>(&record))
        practice->practice.client = known_as(practice->practice.client);
    held_.push_back(std::move(record));
    if (access_ == Access::writing) store_held();
}

Outcome Keeper::take_out(const Id& practice)
{
    if (access_ == Access::writing) {
        Outcome removed = store_->remove_practice(practice);
        if (!removed) return removed;
    } else if (store_) {
        const auto stored = store_->practice(practice);
        if (!stored) return stored.error();
        if (stored.value()) return Error{trouble_};
    }
    held_ = without(practice, std::move(held_));
    return Done{};
}

Outcome Keeper::change(const std::function<Outcome(Store&)>& made)
{
    if (access_ != Access::writing) return Error{trouble_};
    return made(*store_);
}

Result<std::optional<ClientFile>> Keeper::client_file(const Id& client)
{
    const Id known = known_as(client);
    if (!store_) return with_held(std::optional<ClientFile>{}, known, held_);
    auto stored = store_->client_file(known);
    if (!stored) return stored;
    return with_held(std::move(stored.value()), known, held_);
}

Result<std::optional<ClientFile>> Keeper::client_and_plans(const Id& client)
{
    const Id known = known_as(client);
    if (!store_) return with_held(std::optional<ClientFile>{}, known, held_);
    auto stored = store_->client_and_plans(known);
    if (!stored) return stored;
    return with_held(std::move(stored.value()), known, held_);
}

Result<std::optional<Practice>> Keeper::practice(const Id& practice)
{
    if (!store_) return with_held(std::optional<Practice>{}, practice, held_);
    auto stored = store_->practice(practice);
    if (!stored) return stored;
    return with_held(std::move(stored.value()), practice, held_);
}

Result<std::optional<Id>> Keeper::home()
{
    if (const std::optional<Id> held = home_in(held_)) return held;
    if (!store_) return std::optional<Id>{};
    return store_->home_client();
}

ClipsHeld Keeper::clips_of(const Id& client)
{
    if (!store_) return {};
    const Result<ClipsHeld> clips = store_->clips_of(known_as(client));
    return clips ? clips.value() : ClipsHeld{};
}

std::vector<HandedOut> Keeper::handed_out(const Id& client)
{
    if (!store_) return {};
    auto files = store_->handed_out(known_as(client));
    return files ? std::move(files.value()) : std::vector<HandedOut>{};
}

std::int64_t Keeper::bytes_on_disk() const
{
    std::int64_t bytes = 0;
    for (const char* ending : {"", "-wal"}) {
        std::error_code error;
        const auto size = fs::file_size(fs::path{file_.string() + ending}, error);
        if (!error) bytes += static_cast<std::int64_t>(size);
    }
    return access_ == Access::none ? 0 : bytes;
}

}  // namespace holdwell
