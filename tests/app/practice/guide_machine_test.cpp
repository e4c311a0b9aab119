// What sounds like a machine's hold is put before the client, and kept only by her word.

#include <doctest/doctest.h>

#include <string>

#include "tests/app/practice/guided_script.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("a hold that sounds like a machine's is no trial, unless she says that it was hers")
{
    GuidedScript script = small_practice();
    script.settle();
    const Drill warm_up = *script.listened_for;
    HoldMeasures rings;
    rings.hold_time = Seconds{4.0};
    rings.doubt = Doubt::machine;
    script.tell(VoiceBegan{});
    script.tell(TrialHeard{warm_up, rings});
    CHECK(script.stored.empty());
    CHECK(script.guide.phase() == GuidePhase::resting);
    CHECK(script.guide.view().line.find("If it was you, Enter keeps it.") != std::string::npos);
    CHECK(script.guide.view().place == 1);
    SUBCASE("left alone, it is asked for again")
    {
        script.wait(small_plan().rest + Seconds{0.2});
        CHECK(script.guide.phase() != GuidePhase::resting);
        CHECK(script.guide.view().place == 1);
        script.sing_all();
        CHECK(script.stored.size() == 8);
    }
    SUBCASE("kept once, it counts, and the next one follows")
    {
        script.tell(GuideKey::go_on);
        REQUIRE(script.stored.size() == 1);
        CHECK_FALSE(std::get<HoldMeasures>(script.stored[0].measures).doubt);
        CHECK(script.guide.view().place == 2);
        script.tell(TrialStored{});
        script.sing_all();
        CHECK(script.stored.size() == 8);
    }
    SUBCASE("it is skipped like any other")
    {
        script.tell(GuideKey::skip);
        CHECK(script.guide.view().place == 2);
        script.sing_all();
        CHECK(script.stored.size() == 7);
    }
}

TEST_CASE("what sounds like a machine's while she pauses is asked about when she comes back")
{
    GuidedScript script = small_practice();
    script.settle();
    HoldMeasures rings;
    rings.doubt = Doubt::machine;
    const Drill warm_up = *script.listened_for;
    script.tell(GuideKey::pause);
    script.tell(TrialHeard{warm_up, rings});
    CHECK(script.guide.phase() == GuidePhase::paused);
    script.tell(GuideKey::pause);
    CHECK(script.guide.phase() == GuidePhase::resting);
    script.tell(GuideKey::go_on);
    CHECK(script.stored.size() == 1);
}
