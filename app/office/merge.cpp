#include "app/office/merge.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/files/practice_file.h"
#include "app/practice/day_text.h"

namespace holdwell {

namespace {

// ---- one practice beside another ---------------------------------------------------------------

template <typename Value>
bool is_absent_or_same(const std::optional<Value>& part, const std::optional<Value>& whole)
{
    return !part || part == whole;
}

// What is known from the beginning.
bool begun_alike(const Practice& a, const Practice& b)
{
    return a.plan == b.plan && a.plan_revision == b.plan_revision && a.taper_step == b.taper_step &&
           a.kind == b.kind && a.begun == b.begun && a.before == b.before;
}

// What is known at the end. While it was under way, nothing of it has to be there yet.
bool closing_is_part(const Practice& part, const Practice& whole)
{
    const bool rest = is_absent_or_same(part.rating, whole.rating) &&
                      is_absent_or_same(part.sound_check, whole.sound_check) &&
                      (part.remark.empty() || part.remark == whole.remark);
    if (part.completion == Completion::under_way) return rest;
    return rest && part.completion == whole.completion && part.trials_asked == whole.trials_asked;
}

const Trial* trial_in(const Practice& practice, const Id& id)
{
    const auto at = std::ranges::find(practice.trials, id, &Trial::id);
    return at == practice.trials.end() ? nullptr : &*at;
}

// "The practice of 3 March 2026, 07:30"
std::string named(const Practice& practice)
{
    const auto minutes = practice.begun.time.since_midnight.count();
    return fmt::format("The practice of {}, {:02}:{:02}", day_text(practice.begun.date, {}),
                       minutes / 60, minutes % 60);
}

// ---- all practices -----------------------------------------------------------------------------

class PracticeMerge {
public:
    PracticeMerge(const ClientFile& here, const IdsTaken& taken, Merge& merge)
        : here_{here}, taken_{taken}, merge_{merge}
    {
        for (const Practice& practice : here.practices) {
            places_[practice.id] = &practice;
            for (const Trial& trial : practice.trials) homes_[trial.id] = practice.id;
        }
    }

    void take(const Practice& incoming)
    {
        const auto at = places_.find(incoming.id);
        if (at == places_.end() && is_free(incoming)) return add(incoming);
        if (at == places_.end())
            return keep_both(incoming, "bears an id that is used here already");
        const Practice& there = *at->second;
        if (is_part_of(incoming, there)) {
            ++merge_.already_here;
        } else if (is_part_of(there, incoming) && is_free(incoming)) {
            replace(there, incoming);
        } else {
            keep_both(incoming, "is here with other content");
        }
    }

private:
    // None of its ids stands for something else here.
    bool is_free(const Practice& practice) const
    {
        if (taken_.contains(practice.id)) return false;
        return std::ranges::none_of(practice.trials, [&](const Trial& trial) {
            const auto home = homes_.find(trial.id);
            return taken_.contains(trial.id) ||
                   (home != homes_.end() && home->second != practice.id);
        });
    }

    void add(const Practice& practice)
    {
        ++merge_.new_practices;
        merge_.new_trials += static_cast<int>(practice.trials.size());
        put(practice);
    }

    void replace(const Practice& there, const Practice& incoming)
    {
        merge_.new_trials += static_cast<int>(incoming.trials.size() - there.trials.size());
        merge_.notes.push_back(
            fmt::format("{} is here unfinished; the file has more of it.", named(incoming)));
        put(incoming);
    }

    void keep_both(const Practice& incoming, std::string_view why)
    {
        Practice copy = incoming;
        copy.client = here_.client.id;
        copy = renamed_by_content(copy);
        for (std::size_t i = 0; i < copy.trials.size(); ++i)
            merge_.trials_renamed[incoming.trials[i].id] = copy.trials[i].id;
        if (places_.contains(copy.id)) {
            ++merge_.already_here;
            return;
        }
        merge_.conflicts.push_back(
            fmt::format("{} {}: both are kept, as two practices.", named(incoming), why));
        add(copy);
    }

    void put(Practice practice)
    {
        practice.client = here_.client.id;
        merge_.additions.practices.push_back(std::move(practice));
    }

    const ClientFile& here_;
    const IdsTaken& taken_;
    Merge& merge_;
    std::map<Id, const Practice*> places_;
    std::map<Id, Id> homes_;  // of trials
};

// ---- plans -------------------------------------------------------------------------------------

bool is_same_revision(const Plan& a, const Plan& b)
{
    return a.id == b.id && a.revision == b.revision;
}

// Models are kept with the plan in force alone (app/store/store.h): a plan that has none any more
// is the same as it was with them.
bool is_same(const Plan& a, const Plan& b)
{
    if (!a.models.empty() && !b.models.empty()) return a == b;
    Plan bare_a = a;
    Plan bare_b = b;
    bare_a.models.clear();
    bare_b.models.clear();
    return bare_a == bare_b;
}

const Plan* revision_in(const std::vector<Plan>& plans, const Plan& plan)
{
    const auto at =
        std::ranges::find_if(plans, [&](const Plan& p) { return is_same_revision(p, plan); });
    return at == plans.end() ? nullptr : &*at;
}

std::string named(const Plan& plan)
{
    return fmt::format("\"{}\", revision {}", plan.title, plan.revision);
}

// The plan as it is to be kept; nothing when it is here already.
std::optional<Plan> not_here_yet(const std::vector<Plan>& here, const Plan& plan, Merge& merge)
{
    const Plan* there = revision_in(here, plan);
    if (there == nullptr) return plan;
    if (is_same(*there, plan)) return std::nullopt;
    Plan renamed = renamed_by_content(plan);
    if (revision_in(here, renamed) != nullptr) return std::nullopt;
    merge.conflicts.push_back(fmt::format(
        "The plan {} is here with other content: both are kept, as two plans.", named(plan)));
    return renamed;
}

// A file's plans come after the one in force here when they came after it there, or are later
// revisions of it. All others are history.
void merge_plans(const ClientFile& here, const std::vector<Plan>& incoming, Merge& merge)
{
    const Plan* in_force = here.plans.empty() ? nullptr : &here.plans.back();
    bool comes_after = in_force == nullptr;
    for (const Plan& plan : incoming) {
        if (in_force != nullptr && is_same_revision(plan, *in_force) && is_same(plan, *in_force))
            comes_after = true;
        const auto kept = not_here_yet(here.plans, plan, merge);
        if (!kept) continue;
        const bool is_later_revision =
            in_force != nullptr && kept->id == in_force->id && kept->revision > in_force->revision;
        (comes_after || is_later_revision ? merge.additions.plans : merge.additions.earlier_plans)
            .push_back(*kept);
    }
}

// ---- goals -------------------------------------------------------------------------------------

// Ids are drawn at random: the same id is the same goal, and one that was withdrawn anywhere is.
void merge_goals(const ClientFile& here, const std::vector<ClientGoal>& incoming, Merge& merge)
{
    for (const ClientGoal& goal : incoming) {
        const auto there = std::ranges::find(here.goals, goal.id, &ClientGoal::id);
        if (there == here.goals.end()) {
            merge.additions.goals.push_back(goal);
            continue;
        }
        ClientGoal both = *there;
        if (goal.withdrawn_on && (!both.withdrawn_on || *goal.withdrawn_on < *both.withdrawn_on))
            both.withdrawn_on = goal.withdrawn_on;
        if (both != *there) merge.additions.goals.push_back(both);
        ClientGoal as_here = goal;
        as_here.withdrawn_on = there->withdrawn_on;
        if (as_here != *there)
            merge.conflicts.push_back(fmt::format(
                "The goal that was set on {} is here with other content: the one here is kept.",
                day_text(there->set_on, {})));
    }
    const std::size_t count = merge.additions.goals.size();
    if (count > 0)
        merge.notes.push_back(fmt::format("It has {} that {} not here, or was withdrawn since.",
                                          count == 1 ? "a goal" : fmt::format("{} goals", count),
                                          count == 1 ? "is" : "are"));
}

// ---- the client --------------------------------------------------------------------------------

bool is_same_onset(const LabelledOnset& a, const LabelledOnset& b)
{
    const auto values = [](const LabelledOnset& o) {
        const OnsetFeatures& f = o.features;
        return std::tuple{o.label,     f.rise,      f.rise_cycles, f.air_lead,
                          f.air_level, f.overshoot, f.irregular,   f.snr};
    };
    return values(a) == values(b);
}

// All onsets that were named in either.
std::optional<OnsetBaselineRecord> joined(const std::optional<OnsetBaselineRecord>& here,
                                          const std::optional<OnsetBaselineRecord>& incoming)
{
    if (!here || !incoming) return here ? here : incoming;
    OnsetBaselineRecord all = *here;
    all.labelled = std::max(here->labelled, incoming->labelled);
    for (const LabelledOnset& onset : incoming->onsets) {
        const auto is_it = [&](const LabelledOnset& o) { return is_same_onset(o, onset); };
        if (std::ranges::none_of(all.onsets, is_it)) all.onsets.push_back(onset);
    }
    return all;
}

Client joined(const Client& here, const Client& incoming)
{
    Client client = here;
    if (incoming.since.ok() && (!here.since.ok() || incoming.since < here.since))
        client.since = incoming.since;
    client.onset_baseline = joined(here.onset_baseline, incoming.onset_baseline);
    return client;
}

}  // namespace

std::optional<Plan> Merge::plan() const
{
    return additions.plans.empty() ? std::nullopt : std::optional{additions.plans.back()};
}

bool is_part_of(const Practice& part, const Practice& whole)
{
    if (!begun_alike(part, whole) || !closing_is_part(part, whole)) return false;
    return std::ranges::all_of(part.trials, [&](const Trial& trial) {
        const Trial* there = trial_in(whole, trial.id);
        return there != nullptr && same(*there, trial);
    });
}

Merge merge_of(const std::optional<ClientFile>& here, const ClientFile& incoming,
               const IdsTaken& taken)
{
    ClientFile there = here.value_or(ClientFile{});
    if (!here) there.client = incoming.client;
    Merge merge;
    merge.additions.client = joined(there.client, incoming.client);
    merge_plans(there, incoming.plans, merge);
    merge_goals(there, incoming.goals, merge);
    PracticeMerge practices{there, taken, merge};
    for (const Practice& practice : incoming.practices) practices.take(practice);
    merge.is_change =
        !here || !merge.additions.empty() || !same(merge.additions.client, there.client);
    return merge;
}

Merge merge_of_plan(const ClientFile& here, const Plan& plan)
{
    Merge merge;
    merge.additions.client = here.client;
    const auto kept = not_here_yet(here.plans, plan, merge);
    const bool has_later = std::ranges::any_of(here.plans, [&](const Plan& p) {
        return kept && p.id == kept->id && p.revision > kept->revision;
    });
    if (!kept) {
        const bool is_last =
            is_same_revision(here.plans.back(), plan) && is_same(here.plans.back(), plan);
        merge.notes.push_back(is_last ? "This plan is in force already; nothing changes."
                                      : "This plan was here before the one that is in force now; "
                                        "nothing changes.");
    } else if (has_later) {
        merge.additions.earlier_plans.push_back(*kept);
        merge.notes.push_back("A later revision of this plan is here already and stays in force.");
    } else {
        merge.additions.plans.push_back(*kept);
    }
    merge.is_change = !merge.additions.empty();
    return merge;
}

}  // namespace holdwell
