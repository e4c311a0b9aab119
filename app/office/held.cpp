#include "app/office/held.h"

#include <algorithm>
#include <utility>

namespace holdwell {
namespace {

// Calls `with` on each value of one kind, in order.
template <typename Kind, typename With>
void for_each(std::span<const Held> held, const With& with)
{
    for (const Held& one : held)
        if (const auto* value = std::get_if<Kind>(&one)) with(*value);
}

}  // namespace

void put_in(ClientFile& file, const Practice& practice)
{
    const auto there = std::ranges::find(file.practices, practice.id, &Practice::id);
    if (there == file.practices.end()) {
        file.practices.push_back(practice);
        std::ranges::stable_sort(file.practices, {}, &Practice::begun);
        return;
    }
    std::vector<Trial> trials = std::move(there->trials);
    *there = practice;
    there->trials = std::move(trials);
    for (const Trial& trial : practice.trials) put_in(*there, trial);
}

void put_in(Practice& practice, const Trial& trial)
{
    std::erase_if(practice.trials, [&](const Trial& there) { return there.id == trial.id; });
    practice.trials.push_back(trial);
    std::ranges::stable_sort(practice.trials, {}, &Trial::number);
}

std::optional<ClientFile> with_held(std::optional<ClientFile> stored, const Id& client,
                                    std::span<const Held> held)
{
    for_each<HeldHome>(held, [&](const HeldHome& home) {
        if (!stored && home.client.id == client) stored = ClientFile{home.client, {home.plan}, {}};
    });
    if (!stored) return stored;
    for_each<HeldPractice>(held, [&](const HeldPractice& one) {
        if (one.practice.client == client) put_in(*stored, one.practice);
    });
    for_each<HeldTrial>(held, [&](const HeldTrial& one) {
        const auto practice = std::ranges::find(stored->practices, one.practice, &Practice::id);
        if (practice != stored->practices.end()) put_in(*practice, one.trial);
    });
    return stored;
}

std::optional<Practice> with_held(std::optional<Practice> stored, const Id& practice,
                                  std::span<const Held> held)
{
    for_each<HeldPractice>(held, [&](const HeldPractice& one) {
        if (one.practice.id != practice) return;
        std::vector<Trial> trials = stored ? std::move(stored->trials) : std::vector<Trial>{};
        stored = one.practice;
        stored->trials = std::move(trials);
    });
    if (!stored) return stored;
    for_each<HeldTrial>(held, [&](const HeldTrial& one) {
        if (one.practice == practice) put_in(*stored, one.trial);
    });
    return stored;
}

std::optional<Id> home_in(std::span<const Held> held)
{
    std::optional<Id> home;
    for_each<HeldHome>(held, [&](const HeldHome& one) { home = one.client.id; });
    return home;
}

std::vector<Held> without(const Id& practice, std::vector<Held> held)
{
    std::erase_if(held, [&](const Held& one) {
        const auto* begun = std::get_if<HeldPractice>(&one);
        const auto* trial = std::get_if<HeldTrial>(&one);
        const auto* clip = std::get_if<HeldClip>(&one);
        return (begun != nullptr && begun->practice.id == practice) ||
               (trial != nullptr && trial->practice == practice) ||
               (clip != nullptr && clip->practice == practice);
    });
    return held;
}

std::vector<Held> given_to(const Id& client, std::vector<Held> held)
{
    const std::optional<Id> from = home_in(held);
    std::erase_if(held, [](const Held& one) { return std::holds_alternative<HeldHome>(one); });
    for (Held& one : held) {
        auto* practice = std::get_if<HeldPractice>(&one);
        if (practice != nullptr && practice->practice.client == from)
            practice->practice.client = client;
    }
    return held;
}

}  // namespace holdwell
