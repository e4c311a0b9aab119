#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "app/office/exchange.h"
#include "app/office/merge.h"
#include "app/office/practice_desk.h"
#include "app/practice/client_code.h"

namespace holdwell {

namespace {

// What a file that was read means to the records as they are now.
struct Prepared {
    ImportPreviewed preview;
    Additions additions;
    bool changes_something{false};
    bool needs_day_one{false};
};
using Preparation = std::variant<Prepared, Refused>;

Refused refused(const Error& error) { return {.sentence = error.message}; }

// ---- whose it is -------------------------------------------------------------------------------

// The owner of the first of these ids that anybody here has.
template <typename Items, typename Ask>
Result<std::optional<Id>> owner_among(const Items& items, Ask ask)
{
    for (const auto& item : items) {
        Result<std::optional<Id>> owner = ask(item.id);
        if (!owner || owner.value()) return owner;
    }
    return std::optional<Id>{};
}

// Her own id; or, since the computer she practises on may know her by another one, the client here
// who was given one of her plans, or has one of her practices already.
Result<std::optional<Id>> owner_of(Desk& desk, const ClientFile& incoming)
{
    const auto herself = desk.keeper.client_and_plans(incoming.client.id);
    if (!herself) return herself.error();
    if (herself.value()) return std::optional{incoming.client.id};
    Store& store = *desk.keeper.store();
    auto by_plan =
        owner_among(incoming.plans, [&](const Id& id) { return store.owner_of_plan(id); });
    if (!by_plan || by_plan.value()) return by_plan;
    return owner_among(incoming.practices,
                       [&](const Id& id) { return store.owner_of_practice(id); });
}

Result<std::optional<Id>> owner_of(Desk& desk, const Plan& plan)
{
    auto given_to = desk.keeper.store()->owner_of_plan(plan.id);
    if (!given_to || given_to.value()) return given_to;
    return desk.keeper.home();
}

template <typename Content>
Result<std::optional<Id>> client_for(Desk& desk, const Incoming& incoming, const Content& content)
{
    if (incoming.request.into) return incoming.request.into;
    return owner_of(desk, content);
}

// ---- practices ----------------------------------------------------------------------------------

// Where day 1 of the file stands, if one of its practices is here.
std::optional<Date> day_one_by(const std::optional<ClientFile>& here, const ClientFile& incoming)
{
    if (!here) return std::nullopt;
    for (const Practice& practice : here->practices) {
        const auto same = std::ranges::find(incoming.practices, practice.id, &Practice::id);
        if (same != incoming.practices.end())
            return day_after(practice.begun.date, days_between(same->begun.date, kNoDayOne));
    }
    return std::nullopt;
}

// Practices and trials of the file that are other clients' here.
Result<IdsTaken> ids_taken(Store& store, const Id& client, const ClientFile& incoming)
{
    IdsTaken taken;
    const auto note = [&](const Id& id, const Result<std::optional<Id>>& owner) {
        if (owner && owner.value() && *owner.value() != client) taken.insert(id);
        return owner.has_value();
    };
    for (const Practice& practice : incoming.practices) {
        const auto owner = store.owner_of_practice(practice.id);
        if (!note(practice.id, owner)) return owner.error();
        for (const Trial& trial : practice.trials) {
            const auto other = store.owner_of_trial(trial.id);
            if (!note(trial.id, other)) return other.error();
        }
    }
    return taken;
}

std::vector<ClipAdded> clips_of(const PracticeFile& file, const Merge& merge)
{
    std::map<Id, Date> made;
    for (const Practice& practice : file.records.practices)
        for (const Trial& trial : practice.trials) made[trial.id] = practice.begun.date;
    std::vector<ClipAdded> clips;
    for (const Clip& clip : file.clips) {
        const auto renamed = merge.trials_renamed.find(clip.trial);
        const Id trial = renamed == merge.trials_renamed.end() ? clip.trial : renamed->second;
        clips.push_back({{trial, clip.flac}, made[clip.trial]});
    }
    return clips;
}

// A code that nobody else here has.
std::string free_code(const std::string& wanted, const std::vector<Client>& clients)
{
    const std::string first = wanted.empty() ? "client" : wanted;
    std::string code = first;
    const auto is_taken = [&](const Client& client) { return is_same_code(client.code, code); };
    for (int number = 2; std::ranges::any_of(clients, is_taken); ++number)
        code = numbered_code(first, number);
    return code;
}

Outcome settle_code(Desk& desk, Prepared& prepared)
{
    Client& client = prepared.additions.client;
    const auto clients = desk.keeper.store()->clients();
    if (!clients) return clients.error();
    const std::string code = free_code(client.code, clients.value());
    if (code != client.code && !client.code.empty())
        prepared.preview.notes.push_back(fmt::format(
            "Another client here is called \"{}\"; these practices are kept as those of \"{}\".",
            client.code, code));
    client.code = code;
    return Done{};
}

void say_other_name(const Client& here, const Client& incoming, std::vector<std::string>& notes)
{
    if (here.code != incoming.code)
        notes.push_back(fmt::format("In the file she is called \"{}\".", incoming.code));
}

ImportPreviewed preview_of(Carries carries, const Merge& merge)
{
    ImportPreviewed preview;
    preview.carries = carries;
    preview.client_code = merge.additions.client.code;
    preview.new_practices = merge.new_practices;
    preview.new_trials = merge.new_trials;
    preview.already_here = merge.already_here;
    preview.conflicts = merge.conflicts;
    preview.plan = merge.plan();
    preview.notes = merge.notes;
    return preview;
}

Result<std::optional<ClientFile>> records_of(Desk& desk, const std::optional<Id>& client)
{
    if (!client) return std::optional<ClientFile>{};
    return desk.keeper.client_file(*client);
}

bool is_of_the_future(const ClientFile& records, Date today)
{
    return std::ranges::any_of(records.practices,
                               [today](const Practice& p) { return p.begun.date > today; });
}

Preparation prepare_for(Desk& desk, const std::optional<ClientFile>& here, const Incoming& incoming)
{
    PracticeFile file = std::get<PracticeFile>(incoming.content);
    Prepared prepared;
    const bool is_numbered = incoming.days == DaysInFile::numbers;
    const auto known_day = is_numbered ? day_one_by(here, file.records) : std::nullopt;
    const auto day_one = known_day ? known_day : incoming.request.day_one;
    prepared.needs_day_one = is_numbered && !day_one;
    if (is_numbered && day_one) {
        file = with_day_one(std::move(file), *day_one);
        if (!known_day && is_of_the_future(file.records, desk.settings.now().date))
            return Refused{.sentence = "With that as its day 1 the file would hold practices of "
                                       "days to come; say an earlier one."};
    }

    const Id client = here ? here->client.id : file.records.client.id;
    const auto taken = ids_taken(*desk.keeper.store(), client, file.records);
    if (!taken) return refused(taken.error());
    Merge merge = merge_of(here, file.records, taken.value());
    prepared.preview = preview_of(Carries::practices, merge);
    prepared.preview.client_is_new = !here;
    prepared.preview.has_numbered_days = is_numbered && !known_day;
    if (here) say_other_name(here->client, file.records.client, prepared.preview.notes);
    prepared.changes_something = merge.changes_something() || !file.clips.empty();
    std::vector<ClipAdded> clips = clips_of(file, merge);
    prepared.additions = std::move(merge.additions);
    prepared.additions.clips = std::move(clips);
    if (here) return prepared;
    if (const auto settled = settle_code(desk, prepared); !settled) return refused(settled.error());
    prepared.preview.client_code = prepared.additions.client.code;
    return prepared;
}

Preparation prepare_practices(Desk& desk, const Incoming& incoming)
{
    const auto& file = std::get<PracticeFile>(incoming.content);
    const auto client = client_for(desk, incoming, file.records);
    if (!client) return refused(client.error());
    const auto here = records_of(desk, client.value());
    if (!here) return refused(here.error());
    if (incoming.request.into && !here.value())
        return Refused{.sentence = "The client it is for is not in these records."};
    return prepare_for(desk, here.value(), incoming);
}

// ---- a plan
// ---------------------------------------------------------------------------------------

bool knows_nobody(Desk& desk)
{
    const auto clients = desk.keeper.store()->clients();
    return clients && clients.value().empty();
}

Preparation prepare_plan(Desk& desk, const Incoming& incoming)
{
    const Plan& plan = std::get<Plan>(incoming.content);
    const auto client = client_for(desk, incoming, plan);
    if (!client) return refused(client.error());
    const auto here = records_of(desk, client.value());
    if (!here) return refused(here.error());
    // Where nobody is known yet, whoever takes in a plan is the one who practises.
    const bool is_first = !here.value() && !incoming.request.into && knows_nobody(desk);
    if (!here.value() && !is_first)
        return Refused{.sentence = "Nobody practises on this computer yet; name the client whose "
                                   "plan it is."};
    Merge merge = merge_of_plan(here.value().value_or(ClientFile{}), plan);
    Prepared prepared;
    prepared.preview = preview_of(Carries::plan, merge);
    if (is_first) prepared.preview.client_code = "whoever practises here";
    prepared.changes_something = merge.changes_something();
    prepared.additions = std::move(merge.additions);
    return prepared;
}

Preparation prepare(Desk& desk, const Incoming& incoming)
{
    if (desk.keeper.store() == nullptr) return Refused{.sentence = desk.keeper.trouble()};
    if (std::holds_alternative<Plan>(incoming.content)) return prepare_plan(desk, incoming);
    return prepare_practices(desk, incoming);
}

}  // namespace

Answer answer(Desk& desk, const PreviewImport& request)
{
    desk.previewed.reset();
    auto read = read_incoming(request);
    if (auto* objection = std::get_if<Refused>(&read)) return std::move(*objection);
    Preparation preparation = prepare(desk, std::get<Incoming>(read));
    if (auto* objection = std::get_if<Refused>(&preparation)) return std::move(*objection);
    desk.previewed = std::move(std::get<Incoming>(read));
    return std::move(std::get<Prepared>(preparation).preview);
}

Answer answer(Desk& desk, const ConfirmImport&)
{
    if (!desk.previewed) return Refused{.sentence = "Choose a file first; nothing is waiting."};
    // The record that the first start would make is made now.
    const bool is_plan = std::holds_alternative<Plan>(desk.previewed->content);
    if (is_plan && !desk.previewed->request.into && desk.keeper.store() != nullptr &&
        knows_nobody(desk)) {
        (void)answer(desk, LoadHome{});
    }
    // Anew: something may have been practised since the preview.
    Preparation preparation = prepare(desk, *desk.previewed);
    if (auto* objection = std::get_if<Refused>(&preparation)) return std::move(*objection);
    const auto& prepared = std::get<Prepared>(preparation);
    if (prepared.needs_day_one)
        return Refused{.sentence = "This file counts days instead of dates; say on which date its "
                                   "day 1 stands."};
    const Additions& additions = prepared.additions;
    if (prepared.changes_something) {
        const Outcome kept =
            desk.keeper.change([&](Store& store) { return store.keep(additions); });
        if (!kept) return refused(kept.error());
    }
    desk.previewed.reset();
    return Imported{.client = additions.client.id,
                    .practices = static_cast<int>(additions.practices.size()),
                    .plans =
                        static_cast<int>(additions.plans.size() + additions.earlier_plans.size())};
}

}  // namespace holdwell
