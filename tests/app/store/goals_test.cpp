// Goals that can be measured, what left this computer, and practices that are taken out again.

#include <doctest/doctest.h>

#include "app/store/store.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr Date kMarch3{std::chrono::year{2026}, std::chrono::March, std::chrono::day{3}};
constexpr Date kMarch20{std::chrono::year{2026}, std::chrono::March, std::chrono::day{20}};

struct Kept {
    Store store{std::move(Store::open_in_memory().value())};
    RandomRecords records{41};
    ClientFile file{records.file(1, 1)};

    Kept() { REQUIRE(store.keep(file.client)); }
    std::vector<ClientGoal> goals() { return store.client_file(file.client.id).value()->goals; }
    ClientGoal goal()
    {
        ClientGoal made;
        made.id = records.id();
        made.goal = {.kind = DrillKind::warm_up_hold,
                     .note = Note{53},
                     .sound = "/ø/",
                     .band = Cents{60.0},
                     .hold = Seconds{12.5},
                     .onset = OnsetAsked::easy,
                     .met = 4,
                     .trials = 5,
                     .days = 2,
                     .cueing = Cueing::with_cue,
                     .by = kMarch20};
        made.set_on = kMarch3;
        return made;
    }
};

}  // namespace

TEST_CASE("goals are read back as they were set, by day, and one that is withdrawn stays")
{
    Kept kept;
    ClientGoal later = kept.goal();
    later.set_on = kMarch20;
    later.goal.by.reset();
    later.goal.sound.clear();
    const ClientGoal earlier = kept.goal();
    REQUIRE(kept.store.keep(kept.file.client.id, later));
    REQUIRE(kept.store.keep(kept.file.client.id, earlier));
    CHECK(kept.goals() == std::vector{earlier, later});

    ClientGoal withdrawn = earlier;
    withdrawn.withdrawn_on = kMarch20;
    REQUIRE(kept.store.keep(kept.file.client.id, withdrawn));
    CHECK(kept.goals() == std::vector{withdrawn, later});
}

TEST_CASE("a goal is nobody's without a client, and goes with her")
{
    Kept kept;
    const ClientGoal goal = kept.goal();
    CHECK_FALSE(kept.store.keep(kept.records.id(), goal));
    REQUIRE(kept.store.keep(kept.file.client.id, goal));
    REQUIRE(kept.store.keep(kept.file.client.id, HandedOut{.day = kMarch3}));
    REQUIRE(kept.store.remove_client(kept.file.client.id));
    REQUIRE(kept.store.keep(kept.file.client));  // somebody with the same id, from nothing
    CHECK(kept.goals().empty());
    CHECK(kept.store.handed_out(kept.file.client.id).value().empty());
}

TEST_CASE("what left this computer is read back in the order it went")
{
    Kept kept;
    const std::vector<HandedOut> files{
        {.what = HandedOut::What::report, .day = kMarch20, .name = true},
        {.what = HandedOut::What::practices,
         .days = HandedOut::Days::numbers,
         .day = kMarch3,  // a clock that was set back changes no order
         .audio = true,
         .sealed = true},
        {.what = HandedOut::What::plan, .day = kMarch3},
        {.what = HandedOut::What::table, .day = kMarch3},
    };
    for (const HandedOut& file : files) REQUIRE(kept.store.keep(kept.file.client.id, file));
    CHECK(kept.store.handed_out(kept.file.client.id).value() == files);
    CHECK(kept.store.handed_out(kept.records.id()).value().empty());
}

TEST_CASE("a practice that is taken out takes its trials and their sound with it")
{
    Kept kept;
    const Practice stays = kept.records.practice(kept.file.client.id, 2);
    const Practice goes = kept.records.practice(kept.file.client.id, 2);
    REQUIRE(kept.store.keep(stays));
    REQUIRE(kept.store.keep(goes));
    for (const Practice& practice : {stays, goes}) {
        const Clip clip{practice.trials[0].id, kept.records.bytes(4)};
        REQUIRE(kept.store.keep(practice.id, clip, kMarch3));
    }
    REQUIRE(kept.store.remove_practice(goes.id));
    CHECK_FALSE(kept.store.practice(goes.id).value());
    CHECK_FALSE(kept.store.owner_of_trial(goes.trials[0].id).value());
    CHECK(kept.store.clips_of(kept.file.client.id).value().count == 1);
    CHECK(same(*kept.store.practice(stays.id).value(), stays));
    CHECK(kept.store.remove_practice(goes.id));  // no fault when it is gone already
}
