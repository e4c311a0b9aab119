// What a merge owes: nothing twice, nothing lost, the same in any order. The records that it adds
// to are those of a real store, in memory.

#include "app/office/merge.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <utility>

#include "app/store/store.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using test::Random;
using test::RandomRecords;

namespace {

// One client's records, and what is taken in.
class Records {
public:
    Merge take_in(const ClientFile& file)
    {
        Merge merge = merge_of(now(), file);
        if (merge.changes_something()) REQUIRE(store_.keep(merge.additions));
        client_ = merge.additions.client.id;
        return merge;
    }
    std::optional<ClientFile> now()
    {
        auto file = store_.client_file(client_);
        REQUIRE(file);
        return file.value();
    }

private:
    Store store_{std::move(Store::open_in_memory().value())};
    Id client_{std::string(32, '0')};
};

// Some practices of a client as another computer, or an earlier day, knows them: some are missing,
// some were not finished then; her plans up to one of them.
ClientFile earlier_view(const ClientFile& whole, Random& random)
{
    ClientFile view = whole;
    view.plans.resize(
        static_cast<std::size_t>(random.below(static_cast<int>(whole.plans.size()) + 1)));
    std::erase_if(view.practices, [&](const Practice&) { return random.below(4) == 0; });
    for (Practice& practice : view.practices) {
        if (random.below(3) != 0) continue;
        practice.trials.resize(
            static_cast<std::size_t>(random.below(static_cast<int>(practice.trials.size()) + 1)));
        practice.completion = Completion::under_way;
        practice.rating.reset();
        practice.remark.clear();
    }
    return view;
}

// The same, and some practices differ in what cannot be reconciled.
ClientFile other_view(const ClientFile& whole, Random& random)
{
    ClientFile view = earlier_view(whole, random);
    for (Practice& practice : view.practices)
        if (random.below(3) == 0) practice.plan_revision += 1 + random.below(2);
    return view;
}

bool is_kept(const Practice& practice, const ClientFile& here)
{
    return std::ranges::any_of(here.practices, [&](const Practice& p) {
        if (is_part_of(practice, p)) return true;
        // Under other ids: all that was measured is there.
        return p.begun == practice.begun && p.plan_revision == practice.plan_revision &&
               p.trials.size() == practice.trials.size();
    });
}

std::set<std::pair<Id, int>> plan_ids(const ClientFile& file)
{
    std::set<std::pair<Id, int>> ids;
    for (const Plan& plan : file.plans) ids.insert({plan.id, plan.revision});
    return ids;
}

void check_same_practices(ClientFile a, ClientFile b)
{
    std::ranges::sort(a.practices, {}, &Practice::id);
    std::ranges::sort(b.practices, {}, &Practice::id);
    REQUIRE(a.practices.size() == b.practices.size());
    for (std::size_t i = 0; i < a.practices.size(); ++i)
        CHECK(same(a.practices[i], b.practices[i]));
}

// What distinguishes practices when ids are left aside.
std::multiset<std::tuple<Moment, int, std::size_t>> contents(const ClientFile& file)
{
    std::multiset<std::tuple<Moment, int, std::size_t>> all;
    for (const Practice& p : file.practices)
        all.insert({p.begun, p.plan_revision, p.trials.size()});
    return all;
}

constexpr std::uint64_t kSeeds = 60;

}  // namespace

TEST_CASE("taking in a file a second time changes nothing")
{
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        Random random{seed + 1000};
        const ClientFile whole = records.file(3, 5);
        Records here;
        here.take_in(earlier_view(whole, random));
        const ClientFile view = other_view(whole, random);
        here.take_in(view);
        const ClientFile before = *here.now();
        const Merge again = here.take_in(view);
        CHECK_FALSE(again.changes_something());
        CHECK(again.new_practices == 0);
        CHECK(again.new_trials == 0);
        CHECK(again.conflicts.empty());
        CHECK(again.already_here == static_cast<int>(view.practices.size()));
        check_same_practices(before, *here.now());
        CHECK(before.plans == here.now()->plans);
    }
}

TEST_CASE("files of one client can be taken in in any order")
{
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        Random random{seed + 2000};
        const ClientFile whole = records.file(4, 5);
        const ClientFile a = earlier_view(whole, random);
        const ClientFile b = earlier_view(whole, random);
        Records ab;
        Records ba;
        CHECK(ab.take_in(a).conflicts.empty());
        CHECK(ab.take_in(b).conflicts.empty());
        CHECK(ba.take_in(b).conflicts.empty());
        CHECK(ba.take_in(a).conflicts.empty());
        check_same_practices(*ab.now(), *ba.now());
        CHECK(ab.now()->plans == ba.now()->plans);  // so the same one is in force
        CHECK(ab.now()->goals == whole.goals);
        CHECK(ba.now()->goals == whole.goals);
        CHECK(same(ab.now()->client, ba.now()->client));
    }
}

TEST_CASE("where contents differ, the order decides nothing but which of them keeps the id")
{
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        Random random{seed + 3000};
        const ClientFile whole = records.file(1, 5);
        ClientFile a = whole;
        ClientFile b = whole;
        for (Practice& p : a.practices)
            if (random.below(2) == 0) p.plan_revision = 20;
        for (Practice& p : b.practices)
            if (random.below(2) == 0) p.plan_revision = 30;
        Records ab;
        Records ba;
        ab.take_in(a);
        ba.take_in(b);
        CHECK(ab.take_in(b).conflicts.size() == ba.take_in(a).conflicts.size());
        CHECK(contents(*ab.now()) == contents(*ba.now()));
    }
}

TEST_CASE("nothing that was here, and nothing of a file, is lost")
{
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        Random random{seed + 4000};
        const ClientFile whole = records.file(3, 6);
        Records here;
        std::vector<ClientFile> taken;
        for (int i = 0; i < 4; ++i) {
            taken.push_back(other_view(whole, random));
            here.take_in(taken.back());
        }
        const ClientFile now = *here.now();
        for (const ClientFile& file : taken) {
            for (const Practice& practice : file.practices) CHECK(is_kept(practice, now));
            const auto ids = plan_ids(file);
            const auto all = plan_ids(now);
            CHECK(std::ranges::includes(all, ids));
        }
    }
}

TEST_CASE("what is counted is what is added")
{
    RandomRecords records{5};
    ClientFile whole = records.file(1, 0);
    for (int trials : {4, 6, 3})
        whole.practices.push_back(records.practice(whole.client.id, trials));
    ClientFile first = whole;
    first.practices.pop_back();
    first.practices[1].trials.resize(2);
    first.practices[1].completion = Completion::under_way;
    first.practices[1].rating.reset();
    first.practices[1].remark.clear();
    Records here;
    const Merge new_client = here.take_in(first);
    CHECK(new_client.new_practices == 2);
    CHECK(new_client.new_trials == 6);
    const Merge more = here.take_in(whole);
    CHECK(more.new_practices == 1);
    CHECK(more.new_trials == 4 + 3);
    CHECK(more.already_here == 1);
    REQUIRE(more.notes.size() == 1);
    CHECK(more.notes[0].ends_with("is here unfinished; the file has more of it."));
}

TEST_CASE("a practice with another client's id is kept under one of its own")
{
    RandomRecords records{6};
    ClientFile file = records.file(0, 0);
    file.practices.push_back(records.practice(file.client.id, 2));
    const Id taken = file.practices[0].trials[1].id;
    const Merge merge = merge_of(std::nullopt, file, {taken});
    REQUIRE(merge.additions.practices.size() == 1);
    CHECK(merge.additions.practices[0].id != file.practices[0].id);
    CHECK(merge.trials_renamed.at(taken) == merge.additions.practices[0].trials[1].id);
    CHECK(merge.conflicts.size() == 1);
}

// ---- plans -------------------------------------------------------------------------------------

TEST_CASE("a plan that was handed over comes into force once")
{
    RandomRecords records{7};
    ClientFile here = records.file(1, 0);
    const Plan given = records.plan();
    const Merge first = merge_of_plan(here, given);
    REQUIRE(first.plan());
    CHECK(*first.plan() == given);
    here.plans.push_back(given);
    const Merge again = merge_of_plan(here, given);
    CHECK_FALSE(again.changes_something());
    CHECK(again.notes ==
          std::vector<std::string>{"This plan is in force already; nothing changes."});
    here.plans.push_back(records.plan());
    CHECK_FALSE(merge_of_plan(here, given).changes_something());
}

TEST_CASE("an older revision of a plan is kept as history and does not come into force")
{
    RandomRecords records{8};
    ClientFile here = records.file(0, 0);
    Plan plan = records.plan();
    plan.revision = 3;
    here.plans.push_back(plan);
    plan.revision = 2;
    const Merge merge = merge_of_plan(here, plan);
    CHECK_FALSE(merge.plan());
    REQUIRE(merge.additions.earlier_plans.size() == 1);
    CHECK(merge.notes == std::vector<std::string>{
                             "A later revision of this plan is here already and stays in force."});
}

TEST_CASE("the same revision with other content is kept as a plan of its own, and said")
{
    RandomRecords records{9};
    ClientFile here = records.file(1, 0);
    Plan plan = here.plans[0];
    plan.weeks = plan.weeks == 6 ? 5 : 6;
    const Merge merge = merge_of_plan(here, plan);
    REQUIRE(merge.plan());
    CHECK(merge.plan()->id != plan.id);
    CHECK(merge.conflicts.size() == 1);
    here.plans.push_back(*merge.plan());
    CHECK_FALSE(merge_of_plan(here, plan).changes_something());
}

TEST_CASE("practices bring a plan into force only where it followed the one that is in force here")
{
    RandomRecords records{10};
    ClientFile file = records.file(3, 0);
    ClientFile here = file;
    here.plans = {file.plans[1]};
    const Merge followed = merge_of(here, file);
    CHECK(followed.additions.earlier_plans == std::vector<Plan>{file.plans[0]});
    REQUIRE(followed.plan());
    CHECK(*followed.plan() == file.plans[2]);

    here.plans = {records.plan()};
    const Merge unknown = merge_of(here, file);
    CHECK_FALSE(unknown.plan());
    CHECK(unknown.additions.earlier_plans == file.plans);
}

TEST_CASE("named onsets of both are kept, each once, and consent and code stay as they are here")
{
    RandomRecords records{11};
    ClientFile here = records.file(0, 0);
    ClientFile file = here;
    const auto labelled = [&](double rise) {
        LabelledOnset onset;
        onset.features.rise = Seconds{rise};
        return onset;
    };
    here.client.keeps_audio = false;
    here.client.onset_baseline =
        OnsetBaselineRecord{.labelled = records.date(), .onsets = {labelled(0.01), labelled(0.02)}};
    file.client = here.client;
    file.client.code = "another";
    file.client.keeps_audio = true;
    file.client.onset_baseline->onsets = {labelled(0.02), labelled(0.03)};
    const Client client = merge_of(here, file).additions.client;
    CHECK(client.code == here.client.code);
    CHECK_FALSE(client.keeps_audio);
    REQUIRE(client.onset_baseline->onsets.size() == 3);
    CHECK(client.onset_baseline->onsets[2].features.rise == Seconds{0.03});
}
