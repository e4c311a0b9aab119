// What is kept is read back as it was.

#include <doctest/doctest.h>

#include "app/store/store.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using holdwell::test::RandomRecords;

namespace {

Store in_memory()
{
    auto store = Store::open_in_memory();
    REQUIRE(store);
    return std::move(store.value());
}

void keep_all(Store& store, const ClientFile& file)
{
    REQUIRE(store.keep(file.client));
    for (const Plan& plan : file.plans) REQUIRE(store.keep(file.client.id, plan));
    for (const Practice& practice : file.practices) REQUIRE(store.keep(practice));
    for (const ClientGoal& goal : file.goals) REQUIRE(store.keep(file.client.id, goal));
}

ClientFile read_back(Store& store, const Id& client)
{
    auto file = store.client_file(client);
    REQUIRE(file);
    REQUIRE(file.value());
    return *file.value();
}

// Only the plan in force keeps its models.
std::vector<Plan> as_kept(std::vector<Plan> plans)
{
    for (std::size_t i = 0; i + 1 < plans.size(); ++i) plans[i].models.clear();
    return plans;
}

void check_same(const ClientFile& a, const ClientFile& b)
{
    CHECK(same(a.client, b.client));
    CHECK(a.goals == b.goals);
    CHECK(as_kept(a.plans) == b.plans);
    REQUIRE(a.practices.size() == b.practices.size());
    for (std::size_t i = 0; i < a.practices.size(); ++i)
        CHECK(same(a.practices[i], b.practices[i]));
}

}  // namespace

TEST_CASE("every field of clients, plans and practices is read back as it was kept")
{
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        const ClientFile file = records.file(3, 6);
        for (const Plan& plan : file.plans) CHECK(faults_of(plan).empty());
        Store store = in_memory();
        keep_all(store, file);
        keep_all(store, records.file(1, 2));  // somebody else
        check_same(file, read_back(store, file.client.id));

        auto light = store.client_and_plans(file.client.id);
        REQUIRE(light);
        REQUIRE(light.value());
        CHECK(light.value()->practices.empty());
        CHECK(light.value()->plans == as_kept(file.plans));
        for (const Practice& practice : file.practices) {
            auto alone = store.practice(practice.id);
            REQUIRE(alone);
            REQUIRE(alone.value());
            CHECK(same(practice, *alone.value()));
        }
    }
}

TEST_CASE("a client's additions kept at once are read back as they were")
{
    for (std::uint64_t seed = 100; seed < 120; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        const ClientFile file = records.file(3, 5);
        Additions all;
        all.client = file.client;
        all.plans = file.plans;
        all.practices = file.practices;
        all.goals = file.goals;
        Store store = in_memory();
        REQUIRE(store.keep(all));
        check_same(file, read_back(store, file.client.id));
        REQUIRE(store.keep(all));  // again: the same
        check_same(file, read_back(store, file.client.id));
    }
}

TEST_CASE("a record with an id that is there takes its place")
{
    RandomRecords records{7};
    ClientFile file = records.file(2, 3);
    Store store = in_memory();
    keep_all(store, file);

    const Client other = records.client();
    file.client.code = other.code;
    file.client.onset_baseline = other.onset_baseline;
    file.client.keeps_audio = !file.client.keeps_audio;
    REQUIRE(store.keep(file.client));

    Plan changed = records.plan();
    changed.id = file.plans[0].id;
    changed.revision = file.plans[0].revision;
    file.plans[0] = changed;
    REQUIRE(store.keep(file.client.id, changed));

    Practice practice = records.practice(file.client.id, 0);
    practice.id = file.practices[1].id;
    practice.begun = file.practices[1].begun;
    practice.trials = file.practices[1].trials;  // they stay
    Practice without_trials = practice;
    without_trials.trials.clear();
    REQUIRE(store.keep(without_trials));

    Trial trial = records.trial(1);
    if (practice.trials.empty())
        practice.trials.push_back(trial);
    else
        trial.id = practice.trials[0].id;
    practice.trials[0] = trial;
    REQUIRE(store.keep(practice.id, trial));
    file.practices[1] = practice;
    check_same(file, read_back(store, file.client.id));
}

TEST_CASE("additions replace a practice with its trials, and put earlier plans before")
{
    RandomRecords records{8};
    ClientFile file = records.file(2, 2);
    Store store = in_memory();
    keep_all(store, file);

    Additions more;
    more.client = file.client;
    more.earlier_plans = {records.plan(), records.plan()};
    more.plans = {records.plan()};
    Practice shorter = file.practices[0];
    if (!shorter.trials.empty()) shorter.trials.pop_back();
    more.practices = {shorter};
    REQUIRE(store.keep(more));

    file.plans.insert(file.plans.begin(), more.earlier_plans.begin(), more.earlier_plans.end());
    file.plans.push_back(more.plans[0]);
    file.practices[0] = shorter;
    check_same(file, read_back(store, file.client.id));
}

TEST_CASE("of additions that cannot all be kept nothing is kept")
{
    RandomRecords records{9};
    const ClientFile hers = records.file(1, 1);
    Store store = in_memory();
    keep_all(store, hers);

    Additions others;
    others.client = records.client();
    others.plans = {records.plan()};
    others.practices = {records.practice(others.client.id, 3), hers.practices[0]};
    CHECK_FALSE(store.keep(others));
    const auto there = store.client_file(others.client.id);
    REQUIRE(there);
    CHECK_FALSE(there.value());
    check_same(hers, read_back(store, hers.client.id));
}

TEST_CASE("practices come by the moment they were begun, trials by their number")
{
    RandomRecords records{10};
    Store store = in_memory();
    const Client client = records.client();
    REQUIRE(store.keep(client));
    for (int i = 0; i < 30; ++i) {
        Practice practice = records.practice(client.id, 0);
        REQUIRE(store.keep(practice));
        for (const int number : {3, 1, 2}) REQUIRE(store.keep(practice.id, records.trial(number)));
    }
    const ClientFile file = read_back(store, client.id);
    REQUIRE(file.practices.size() == 30);
    for (std::size_t i = 0; i < file.practices.size(); ++i) {
        if (i > 0) CHECK(file.practices[i - 1].begun <= file.practices[i].begun);
        REQUIRE(file.practices[i].trials.size() == 3);
        for (std::size_t t = 0; t < 3; ++t)
            CHECK(file.practices[i].trials[t].number == static_cast<int>(t) + 1);
    }
}

TEST_CASE("what belongs to nobody is refused with its id")
{
    RandomRecords records{11};
    Store store = in_memory();
    const Id nobody{"no-such-id"};
    const Outcome outcomes[] = {
        store.keep(nobody, records.plan()),
        store.keep(records.practice(nobody, 1)),
        store.keep(nobody, records.trial(1)),
        store.keep(nobody, Clip{Id{"t"}, {}}, Date{}),
    };
    for (const Outcome& outcome : outcomes) {
        REQUIRE_FALSE(outcome);
        CHECK(outcome.error().message.find("no-such-id") != std::string::npos);
    }
    CHECK_FALSE(store.client_file(nobody).value());
    CHECK_FALSE(store.practice(nobody).value());
    CHECK_FALSE(store.clip(nobody).value());
    CHECK(store.clips_of(nobody).value().count == 0);
}

TEST_CASE("whose a plan, practice or trial is, is known")
{
    RandomRecords records{12};
    Store store = in_memory();
    const ClientFile hers = records.file(1, 0);
    ClientFile his = records.file(0, 0);
    his.plans = hers.plans;  // handed to both
    const Plan only_his = records.plan();
    his.plans.push_back(only_his);
    const Practice practice = records.practice(his.client.id, 2);
    his.practices = {practice};
    keep_all(store, hers);
    keep_all(store, his);

    CHECK(store.owner_of_practice(practice.id).value() == his.client.id);
    CHECK(store.owner_of_trial(practice.trials[1].id).value() == his.client.id);
    CHECK(store.owner_of_plan(only_his.id).value() == his.client.id);
    CHECK_FALSE(store.owner_of_plan(hers.plans[0].id).value());
    CHECK_FALSE(store.owner_of_practice(Id{"none"}).value());
    CHECK_FALSE(store.owner_of_trial(Id{"none"}).value());
    CHECK_FALSE(store.owner_of_plan(Id{"none"}).value());
}

TEST_CASE("sound is kept beside its trial, counted, and goes by its day or at once")
{
    RandomRecords records{13};
    Store store = in_memory();
    const ClientFile file = records.file(0, 0);
    keep_all(store, file);
    const Practice practice = records.practice(file.client.id, 3);
    REQUIRE(store.keep(practice));
    const Date first{std::chrono::year{2026} / 3 / 1};
    std::int64_t bytes = 0;
    for (int i = 0; i < 3; ++i) {
        const Clip clip{practice.trials[static_cast<std::size_t>(i)].id, records.bytes(100 + i)};
        bytes += 100 + i;
        REQUIRE(store.keep(practice.id, clip, day_after(first, std::chrono::days{i})));
        const auto there = store.clip(clip.trial);
        REQUIRE(there.value());
        CHECK(there.value()->flac == clip.flac);
        CHECK(there.value()->trial == clip.trial);
    }
    CHECK(store.clips_of(file.client.id).value().count == 3);
    CHECK(store.clips_of(file.client.id).value().bytes == bytes);

    REQUIRE(store.remove_clips_made_before(file.client.id, day_after(first, std::chrono::days{2})));
    CHECK(store.clips_of(file.client.id).value().count == 1);
    CHECK_FALSE(store.clip(practice.trials[1].id).value());
    CHECK(store.clip(practice.trials[2].id).value());
    REQUIRE(store.remove_clips(file.client.id));
    CHECK(store.clips_of(file.client.id).value().count == 0);
    CHECK(read_back(store, file.client.id).practices.size() == 1);  // the measures stay
}

TEST_CASE("the client of this computer is remembered until she is deleted")
{
    RandomRecords records{14};
    Store store = in_memory();
    CHECK_FALSE(store.home_client().value());
    const Client client = records.client();
    REQUIRE(store.set_home_client(client.id));  // before she is there
    REQUIRE(store.keep(client));
    CHECK(store.home_client().value() == client.id);
    REQUIRE(store.remove_client(client.id));
    CHECK_FALSE(store.home_client().value());
    REQUIRE(store.remove_client(client.id));  // again: nothing to remove
}

TEST_CASE("clients are listed by their codes")
{
    RandomRecords records{15};
    Store store = in_memory();
    for (const char* code : {"c", "a", "b"}) {
        Client client = records.client();
        client.code = code;
        REQUIRE(store.keep(client));
    }
    const auto clients = store.clients();
    REQUIRE(clients.value().size() == 3);
    CHECK(clients.value()[0].code == "a");
    CHECK(clients.value()[2].code == "c");
}
