#include <doctest/doctest.h>

#include <algorithm>

#include "tests/app/practice/guided_script.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("a practice goes by itself from posture to the two questions")
{
    GuidedScript script = small_practice();
    CHECK(script.guide.phase() == GuidePhase::posture);
    CHECK(script.guide.view().line.find("shoulders") != std::string::npos);
    script.wait(kPostureTime + 1s);
    CHECK(script.guide.phase() == GuidePhase::sound_check);
    CHECK(script.checks == 1);
    script.tell(CheckDone{SoundCheckSummary{}, ""});
    CHECK(script.guide.phase() == GuidePhase::cue);
    script.sing_all();
    CHECK(script.guide.phase() == GuidePhase::rating);
    CHECK(script.ratings_asked == 1);
    CHECK(script.checks == 1);
    CHECK(script.guide.completion() == Completion::complete);
    REQUIRE(script.stored.size() == 8);
    const auto asked = trials_of(small_plan());
    REQUIRE(asked.size() == 8);
    for (std::size_t i = 0; i < 8; ++i) {
        CAPTURE(i);
        CHECK(script.stored[i].number == static_cast<int>(i) + 1);
        CHECK(script.stored[i].kind == asked[i].drill.kind);
        CHECK(script.stored[i].repetition == asked[i].repetition);
    }
    script.tell(RatingGiven{});
    CHECK(script.guide.phase() == GuidePhase::over);
}

TEST_CASE("after a maximal hold comes the plan's rest, after a glide a short one")
{
    GuidedScript script = small_practice();
    script.settle();
    script.sing();  // the warm-up is a whole breath
    script.tell(TrialStored{});
    CHECK(script.guide.phase() == GuidePhase::resting);
    REQUIRE(script.guide.view().waits);
    CHECK(script.guide.view().waits->count() == doctest::Approx(20.0));
    CHECK(script.guide.view().second == "Rest and breathe. Next: F4 in 20 s.");
    script.wait(Seconds{19.0});
    CHECK(script.guide.phase() == GuidePhase::resting);
    script.wait(Seconds{1.5});
    CHECK(script.guide.phase() == GuidePhase::cue);
    CHECK(script.guide.view().headline == "2 of 8");

    script.tell(GuideKey::skip);                           // on to the glides
    CHECK(script.guide.phase() == GuidePhase::listening);  // a glide has no note to be played
    script.sing();
    CHECK(script.guide.view().waits == kShortRest);
}

TEST_CASE("the next trial waits until the last one is durable")
{
    GuidedScript script = small_practice();
    script.settle();
    script.sing();
    script.wait(Seconds{60.0});
    CHECK(script.guide.phase() == GuidePhase::resting);
    CHECK(script.guide.view().second == "Keeping what you did\u2026");
    script.tell(TrialStored{});
    script.wait(Seconds{0.2});
    CHECK(script.guide.phase() == GuidePhase::cue);
}

TEST_CASE("Enter does the last trial once more, after the rest, and goes on where it was")
{
    GuidedScript script = small_practice();
    script.settle();
    script.sing();
    script.tell(TrialStored{});
    script.tell(GuideKey::go_on);
    script.tell(GuideKey::go_on);  // twice asked for is once done
    CHECK(script.guide.view().headline == "1 of 8");
    CHECK(script.guide.view().second == "Once more: F4 in 20 s.");
    script.sing_all();
    REQUIRE(script.stored.size() == 9);
    CHECK(script.stored[1].repetition == 1);
    CHECK(script.stored[1].number == 2);
    CHECK(script.stored[2].repetition == 2);
    CHECK(script.guide.completion() == Completion::complete);
}

TEST_CASE("a trial that is skipped leaves the practice partly done")
{
    GuidedScript script = small_practice();
    script.settle();
    script.tell(GuideKey::skip);
    script.sing_all();
    CHECK(script.stored.size() == 7);
    CHECK(script.guide.completion() == Completion::partial);
}

TEST_CASE("Space pauses and goes on where it was: a trial begins again, a rest goes on")
{
    GuidedScript script = small_practice();
    script.settle();
    script.tell(VoiceBegan{});
    script.tell(GuideKey::pause);
    CHECK(script.guide.phase() == GuidePhase::paused);
    CHECK_FALSE(script.listened_for);
    script.tell(GuideKey::pause);
    CHECK(script.guide.phase() == GuidePhase::cue);
    CHECK(script.begun.size() == 2);
    CHECK(script.guide.view().headline == "1 of 8");
    script.tell(ListeningBegan{});
    script.sing();
    script.tell(TrialStored{});
    script.wait(Seconds{5.0});
    script.tell(GuideKey::pause);
    script.wait(Seconds{5.0});  // rests all the same
    script.tell(GuideKey::pause);
    CHECK(script.guide.phase() == GuidePhase::resting);
    REQUIRE(script.guide.view().waits);
    CHECK(script.guide.view().waits->count() == doctest::Approx(10.0).epsilon(0.03));
}

TEST_CASE("Escape asks once, and a second time ends the practice early")
{
    GuidedScript script = small_practice();
    script.settle();
    script.tell(GuideKey::stop);
    CHECK(script.guide.phase() == GuidePhase::asks_to_stop);
    CHECK(script.guide.view().escape == "stop here");
    script.tell(GuideKey::go_on);
    CHECK(script.guide.phase() == GuidePhase::cue);
    script.tell(GuideKey::stop);
    script.tell(GuideKey::stop);
    CHECK(script.guide.phase() == GuidePhase::rating);
    CHECK(script.guide.completion() == Completion::partial);
}

TEST_CASE("something that hurts ends the practice as just that")
{
    GuidedScript script = small_practice();
    script.settle();
    script.tell(GuideKey::hurts);  // not yet asked
    CHECK(script.guide.phase() == GuidePhase::listening);
    script.tell(GuideKey::stop);
    script.tell(GuideKey::hurts);
    CHECK(script.guide.completion() == Completion::stopped_for_discomfort);
    CHECK(script.ratings_asked == 1);
}

TEST_CASE("a client who is elsewhere is waited for: silence, or talk, pauses the practice")
{
    GuidedScript script = small_practice();
    script.settle();
    script.wait(kSilenceToPause + 1s);
    CHECK(script.guide.phase() == GuidePhase::paused);
    CHECK(script.guide.view().line.find("Nothing was heard") == 0);
    script.tell(GuideKey::pause);
    script.tell(ListeningBegan{});
    for (int i = 0; i < kShortSoundsToPause; ++i) {
        script.tell(VoiceBegan{});
        script.wait(Seconds{0.5});
        script.tell(VoiceTooShort{});
    }
    CHECK(script.guide.phase() == GuidePhase::paused);
    CHECK(script.guide.view().line.find("talking") != std::string::npos);
    script.tell(GuideKey::go_on);
    script.sing_all();
    CHECK(script.stored.size() == 8);
}

TEST_CASE("a microphone that goes takes nothing with it: the hold is kept, marked, and asked again")
{
    GuidedScript script = small_practice();
    script.settle();
    const Drill drill = *script.listened_for;
    script.tell(VoiceBegan{});
    HoldMeasures cut;
    cut.hold_time = Seconds{3.0};
    cut.ended_by = HoldEnd::stream_ended;
    script.tell(TrialHeard{drill, cut});
    script.tell(MicrophoneGone{});
    CHECK(script.guide.phase() == GuidePhase::no_microphone);
    REQUIRE(script.stored.size() == 1);
    CHECK(std::get<HoldMeasures>(script.stored[0].measures).has_gap);
    script.tell(TrialStored{});
    script.tell(MicrophoneBack{});
    CHECK(script.guide.view().headline == "1 of 8");
    script.sing_all();
    CHECK(script.stored.size() == 9);
    CHECK(script.guide.completion() == Completion::complete);
}

TEST_CASE("a trial that ends as a key is pressed is kept all the same")
{
    GuidedScript script = small_practice();
    script.settle();
    const Drill warm_up = *script.listened_for;
    SUBCASE("with the pause")
    {
        script.tell(GuideKey::pause);
        script.tell(TrialHeard{warm_up, measures_for(warm_up, Seconds{9.0})});
        REQUIRE(script.stored.size() == 1);
        CHECK(script.guide.phase() == GuidePhase::paused);
        script.tell(TrialStored{});
        script.tell(GuideKey::pause);
        CHECK(script.guide.phase() == GuidePhase::resting);  // not asked for again
        script.sing_all();
        CHECK(script.stored.size() == 8);
    }
    SUBCASE("with the key that skips it")
    {
        script.tell(GuideKey::skip);
        script.tell(GuideKey::skip);  // the glide is shown by now
        script.tell(TrialHeard{warm_up, measures_for(warm_up, Seconds{9.0})});
        REQUIRE(script.stored.size() == 1);
        CHECK(script.stored[0].kind == DrillKind::warm_up_hold);
        CHECK(script.guide.phase() == GuidePhase::listening);
    }
}

TEST_CASE("a practice is gone on with after the last trial that was kept")
{
    GuidedScript before = small_practice();
    before.settle();
    for (int i = 0; i < 3; ++i) {
        if (before.guide.phase() == GuidePhase::cue) before.tell(ListeningBegan{});
        before.sing();
        before.tell(TrialStored{});
        before.wait(Seconds{21.0});
    }
    REQUIRE(before.stored.size() == 3);

    GuidedScript after = small_practice(before.stored);
    CHECK(after.guide.view().headline == "4 of 8");
    CHECK(after.guide.view().second.find("We go on where you were") == 0);
    after.settle();
    after.sing_all();
    REQUIRE(after.stored.size() == 5);
    CHECK(after.stored.front().number == 4);
    CHECK(after.stored.front().begun >= before.stored.back().begun);
    CHECK(after.guide.completion() == Completion::complete);
}

TEST_CASE("a practice whose trials are all kept has only the questions left")
{
    GuidedScript before = small_practice();
    before.settle();
    before.sing_all();
    GuidedScript after = small_practice(before.stored);
    CHECK(after.guide.phase() == GuidePhase::rating);
    CHECK(after.guide.completion() == Completion::complete);
}

TEST_CASE("a drill that this microphone cannot hear is said and passed over")
{
    GuidedScript script{baseline_setup(BaselineSounds::s)};
    script.settle();
    script.tell(TrialImpossible{"This microphone cuts off the sound of /s/."});
    CHECK(script.guide.phase() == GuidePhase::resting);
    CHECK(script.guide.view().line == "This microphone cuts off the sound of /s/.");
}

TEST_CASE("the baseline is three quiet /s/ and, when asked for, three /z/")
{
    GuidedScript script{baseline_setup(BaselineSounds::s_and_z)};
    script.settle();
    script.sing_all();
    REQUIRE(script.stored.size() == 6);
    CHECK(std::ranges::count(script.stored, DrillKind::s_hold, &Trial::kind) == 3);
    CHECK(std::ranges::count(script.stored, DrillKind::z_hold, &Trial::kind) == 3);
    CHECK_FALSE(script.stored[0].target);
}

TEST_CASE("a trial that was cut off and then done again is not asked for once more on resuming")
{
    HoldMeasures cut;
    cut.hold_time = Seconds{2.0};
    cut.ended_by = HoldEnd::stream_ended;
    HoldMeasures whole;
    whole.hold_time = Seconds{9.0};
    Trial first;
    first.number = 1;
    first.kind = DrillKind::warm_up_hold;
    first.target = kF4;
    first.repetition = 1;
    first.measures = cut;
    Trial again = first;
    again.number = 2;
    again.measures = whole;
    const GuidedScript with_the_cut = small_practice({first});
    REQUIRE(with_the_cut.guide.current() != nullptr);
    CHECK(with_the_cut.guide.current()->repetition == 1);
    const GuidedScript resumed = small_practice({first, again});
    REQUIRE(resumed.guide.current() != nullptr);
    CHECK(resumed.guide.current()->repetition == 2);
    CHECK(resumed.guide.trials_kept() == 2);
}
