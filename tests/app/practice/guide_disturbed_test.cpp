// Whatever is pressed, and whatever happens in the house.

#include <doctest/doctest.h>

#include <set>

#include "tests/app/practice/guided_script.h"
#include "tests/support/random.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// One random thing that can happen in a house with a microphone and a keyboard. Gives how many
// trials were heard by it.
int disturb(GuidedScript& script, Random& random)
{
    switch (random.below(12)) {
    case 0:
        script.tell(GuideKey::go_on);
        return 0;
    case 1:
        script.tell(GuideKey::pause);
        return 0;
    case 2:
        script.tell(GuideKey::skip);
        return 0;
    case 3:
        script.tell(random.below(8) == 0 ? GuideKey::stop : GuideKey::go_on);
        return 0;
    case 4:
        script.tell(MicrophoneGone{});
        script.tell(MicrophoneBack{});
        return 0;
    case 5:
        script.tell(CheckDone{SoundCheckSummary{}, ""});
        return 0;
    case 6:
        script.tell(VoiceTooShort{});
        return 0;
    case 7:
        script.tell(TrialStored{});
        return 0;
    case 8:
        script.tell(ListeningBegan{});
        return 0;
    case 9:
    case 10:
        script.wait(Seconds{random.uniform(0.1, 30.0)});
        return 0;
    default:
        if (!script.listened_for || script.guide.phase() == GuidePhase::resting) return 0;
        script.sing(Seconds{random.uniform(1.0, 3.0)});
        return 1;
    }
}

}  // namespace

TEST_CASE("whatever is pressed, every trial heard is kept once, in order, and none begins too soon")
{
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        CAPTURE(seed);
        Random random{seed};
        GuidedScript script = small_practice();
        int heard = 0;
        for (int i = 0; i < 120 && script.guide.phase() != GuidePhase::rating; ++i)
            heard += disturb(script, random);
        REQUIRE(static_cast<int>(script.stored.size()) == heard);
        std::set<int> numbers;
        for (const Trial& trial : script.stored) numbers.insert(trial.number);
        CHECK(numbers.size() == script.stored.size());
        if (!numbers.empty()) CHECK(*numbers.rbegin() == heard);
        CHECK(script.begun_too_soon == 0);
        CHECK(script.guide.trials_kept() == heard);
    }
}

TEST_CASE("whatever was pressed, a client who sings what is asked comes to the end")
{
    int complete = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        Random random{seed};
        GuidedScript script = small_practice();
        for (int i = 0; i < 40; ++i) disturb(script, random);
        // She brings back what has gone, and goes on.
        while (script.unanswered > 0) script.tell(TrialStored{});
        script.tell(MicrophoneBack{});
        if (script.guide.phase() == GuidePhase::paused ||
            script.guide.phase() == GuidePhase::asks_to_stop) {
            script.tell(GuideKey::pause);
        }
        if (script.guide.phase() == GuidePhase::posture) script.tell(GuideKey::skip);
        if (script.guide.phase() == GuidePhase::sound_check) script.tell(GuideKey::skip);
        script.sing_all();
        CHECK(script.guide.phase() == GuidePhase::rating);
        CHECK(script.ratings_asked == 1);
        complete += script.guide.completion() == Completion::complete ? 1 : 0;
    }
    CHECK(complete > 0);
    CHECK(complete < 200);  // some were skipped or stopped: both kinds were tried
}

TEST_CASE("the same events give the same practice")
{
    const auto run = [](std::uint64_t seed) {
        Random random{seed};
        GuidedScript script = small_practice();
        for (int i = 0; i < 80; ++i) disturb(script, random);
        return std::pair{script.guide.view(), script.stored.size()};
    };
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        CAPTURE(seed);
        CHECK(run(seed) == run(seed));
    }
}
