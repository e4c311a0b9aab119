// Changing a plan: single steps kept in range, what changes for the client, and the page on it.
// Ranges are those of app/practice/plan.h.

#include <doctest/doctest.h>

#include <algorithm>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/plan_changes.h"
#include "app/pages/plan_editing.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"
#include "tests/support/records/plan_examples.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

PlanSaved saved_answer(const OpenedClient& opened, const SavePlan& asked)
{
    PlanSaved saved;
    saved.client = opened->file.client.id;
    saved.plan = asked.plan;
    ++saved.plan.revision;
    return saved;
}

}  // namespace

TEST_CASE("no number of steps leaves a plan's ranges")
{
    Plan plan;
    plan.taper.steps.resize(3, TaperStep{.name = "less", .drills = plan.drills});
    for (const int by : {+1, -1}) {
        for (int i = 0; i < 200; ++i) {
            step_warm_up(plan, by);
            step_band(plan, by);
            step_bridge(plan, by);
            step_rest(plan, by);
            step_practices_a_day(plan, by);
            step_most_practices(plan, by);
            step_weeks(plan, by);
            step_keep_days(plan, by);
            step_taper_step(plan, by);
            step_met_on_days(plan, by);
            step_keep_share(plan, by);
            step_goal(plan, by, kDeskToday);
            step_repetitions(plan.drills, 0, by);
            step_practices_a_week(plan.taper.steps[0], by);
            step_days(plan.taper.steps[0], by);
        }
        plan.written = kDeskToday;
        const auto faults = faults_of(plan);
        for (const Fault& fault : faults) MESSAGE(fault.place, ": ", fault.sentence);
        CHECK(faults.empty());
    }
}

TEST_CASE("steps land on round figures")
{
    Plan plan;
    plan.band = {104.0};
    step_band(plan, +1);
    CHECK(plan.band.value == doctest::Approx(110.0));
    step_rest(plan, +1);
    CHECK(plan.rest.count() == doctest::Approx(20.0));
    step_bridge(plan, -1);
    CHECK(plan.bridge.count() == doctest::Approx(0.25));
}

TEST_CASE("a goal changed on the plan page is set by hand, today, and goes away below one second")
{
    Plan plan;
    step_goal(plan, +1, kDeskToday);
    REQUIRE(plan.goal);
    CHECK(plan.goal->hold.count() == doctest::Approx(1.0));
    CHECK(plan.goal->origin == GoalOrigin::by_hand);
    CHECK(plan.goal->set_on == kDeskToday);
    step_goal(plan, -1, kDeskToday);
    CHECK_FALSE(plan.goal);
}

TEST_CASE("more practices a day raise the most a day, which never falls below them")
{
    Plan plan;
    step_practices_a_day(plan, +2);
    CHECK(plan.most_practices_a_day == 4);
    step_most_practices(plan, -5);
    CHECK(plan.most_practices_a_day == 4);
}

TEST_CASE("other notes than a set's are the client's own, and a set brings its notes back")
{
    Plan plan;
    step_warm_up(plan, -1);
    CHECK(plan.voice.set == VoiceSet::own);
    CHECK(type_ladder(plan, "C3 D3  Bb3") == LadderTyped::taken);
    CHECK(ladder_said(plan.voice) == "C3 D3 A\u266f3");
    CHECK(type_ladder(plan, "C3 H9") == LadderTyped::not_notes);
    CHECK(plan.voice.ladder.size() == 3);
    choose_voice(plan, VoiceSet::lower);
    CHECK(plan.voice.warm_up == kF3);
    CHECK(ladder_said(plan.voice) == "C3 D3 E3 F3 G3");
}

TEST_CASE("drills are moved, added and taken out, the last one never")
{
    DrillList drills{{DrillKind::warm_up_hold, 2}, {DrillKind::rising_glide, 1}};
    CHECK(move_drill(drills, 1, -1) == 0);
    CHECK(drills[0].kind == DrillKind::rising_glide);
    CHECK(move_drill(drills, 0, -1) == 0);
    CHECK(move_drill(drills, 1, +1) == 1);
    CHECK(move_drill(drills, 7, +1) == 7);
    for (int i = 0; i < 20; ++i) add_drill(drills, DrillKind::s_hold);
    CHECK(drills.size() == 12);
    for (int i = 0; i < 20; ++i) remove_drill(drills, 0);
    CHECK(drills.size() == 1);
}

TEST_CASE("a taper step in force that is taken out leaves a step that exists")
{
    Plan plan;
    add_taper_step(plan);
    add_taper_step(plan);
    CHECK(plan.taper.steps[0].practices_a_week == 7);  // half of twice a day
    plan.taper_step = 2;
    remove_taper_step(plan, 0);
    CHECK(plan.taper_step == 1);
    remove_taper_step(plan, 5);
    CHECK(plan.taper.steps.size() == 1);
}

TEST_CASE("a model can be sung for each hold on its note and for the glides, each once")
{
    Plan plan;  // warm-up, two glides, five ladder notes
    plan.drills.push_back({DrillKind::s_hold, 3});
    plan.drills.push_back({DrillKind::warm_up_hold, 1});
    CHECK(models_wanted(plan).size() == 8);
    ModelVoice sung;
    sung.note = kF4;
    sung.flac.resize(3);
    keep_model(plan, sung);
    keep_model(plan, sung);
    REQUIRE(plan.models.size() == 1);
    CHECK(find_model(plan, models_wanted(plan)[0]) != nullptr);
    remove_model(plan, sung);
    CHECK(plan.models.empty());
}

TEST_CASE("a template leaves who the plan is for, its goal, and recordings still asked for")
{
    Plan now;
    now.id = {"0123456789abcdef0123456789abcdef"};
    now.revision = 4;
    now.goal = Goal{.hold = Seconds{18.0}, .set_on = kDeskToday, .reasoning = {}};
    ModelVoice warm_up;
    warm_up.note = kF4;
    ModelVoice high = warm_up;
    high.kind = DrillKind::ladder_hold;
    high.note = Note{67};
    now.models = {warm_up, high};
    Plan from_template;
    from_template.drills = {{DrillKind::warm_up_hold, 2}};
    const Plan plan = begun_from(from_template, now);
    CHECK(plan.id == now.id);
    CHECK(plan.revision == 4);
    CHECK(plan.goal == now.goal);
    REQUIRE(plan.models.size() == 1);
    CHECK(plan.models[0].note == kF4);
}

TEST_CASE("every change that the client would notice is said, and none that was not made")
{
    const Plan before = plan_with_everything();
    CHECK(changes_between(before, before).empty());
    Plan after = before;
    after.practices_a_day = before.practices_a_day == 2 ? 3 : 2;
    after.most_practices_a_day = 8;
    after.band = {70.0};
    const auto changes = changes_between(before, after);
    const auto about = [&](const std::string& what) {
        for (const PlanChange& change : changes)
            if (change.what == what) return change.after;
        return std::string{"not said"};
    };
    CHECK(about("Practices a day") == std::to_string(after.practices_a_day));
    CHECK(about("Near enough") == "\u00b1 70 cents");
    CHECK(about("Weeks") == "not said");
    CHECK(change_said({"Weeks", "6", "8"}) == "Weeks: 6, then 8.");
}

TEST_CASE("random plans: what is said to change is empty exactly when nothing visible changed")
{
    Random random{11};
    for (int i = 0; i < 200; ++i) {
        const Plan plan = random_plan(random);
        Plan other = plan;
        CHECK(changes_between(plan, other).empty());
        other.weeks = plan.weeks == 26 ? 1 : plan.weeks + 1;
        const auto changes = changes_between(plan, other);
        CHECK(changes.size() == 1);
        CHECK(changes[0].what == "Weeks");
    }
}

TEST_CASE("a changed plan is saved as it stands and then handed over")
{
    const OpenedClient opened = eight_weeks();
    const auto page = plan_page(opened);
    go_to(*page, "Practices a day");
    press(*page, PressKey::Key::right);
    CHECK(words_of(page->view()).find("Practices a day: 2, then 3.") != std::string::npos);
    press_letter(*page, 'H');
    const auto asked = requests_of<SavePlan>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].plan.practices_a_day == 3);
    CHECK(asked[0].plan.written == kDeskToday);
    page->hear(saved_answer(opened, asked[0]));
    CHECK(wishes_of<OpenPage>(*page).size() == 1);
    CHECK(page->view().lead.find("revision 2") != std::string::npos);
}

TEST_CASE("a plan that cannot be practised is not saved, and says where")
{
    const auto page = plan_page(eight_weeks());
    go_to(*page, "Title");
    press(*page, PressKey::Key::erase, 100);
    do_at(*page, "Save");
    CHECK(requests_of<SavePlan>(*page).empty());
    CHECK(words_of(page->view()).find("It has 0 letters") != std::string::npos);
}

TEST_CASE("a ladder that is no notes is said at its row and changes nothing")
{
    const auto page = plan_page(eight_weeks());
    go_to(*page, "Ladder");
    type(*page, " X");
    CHECK(words_of(page->view()).find("Notes are typed with their octave") != std::string::npos);
    CHECK(value_at(*page, "Voice") == "higher voice");
}

TEST_CASE("changes that were not saved are asked about once before the page closes")
{
    const auto page = plan_page(eight_weeks());
    press(*page, PressKey::Key::back);
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
    go_to(*page, "Weeks");
    press(*page, PressKey::Key::left);
    press(*page, PressKey::Key::back);
    CHECK(wishes_of<ClosePage>(*page).empty());
    CHECK(page->view().notice.find("not saved") != std::string::npos);
    press(*page, PressKey::Key::left);  // changed once more: asked about once more
    press(*page, PressKey::Key::back);
    CHECK(wishes_of<ClosePage>(*page).empty());
    press(*page, PressKey::Key::back);
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
}

TEST_CASE("drills are reordered by keys, and Escape goes back to the plan")
{
    const auto page = plan_page(eight_weeks());
    do_at(*page, "Drills");
    CHECK(labels_of(*page)[0] == "1. Warm-up hold");
    press_letter(*page, 'D');
    CHECK(labels_of(*page)[1] == "2. Warm-up hold");
    press_letter(*page, 'D');  // the focus went with it
    CHECK(labels_of(*page)[2] == "3. Warm-up hold");
    press_letter(*page, 'X');
    do_at(*page, "/s/ hold");
    press(*page, PressKey::Key::back);
    CHECK(page->view().title == "Plan");
    CHECK(words_of(page->view()).find("/s/ hold twice") != std::string::npos);
}

TEST_CASE("the therapist's voice is asked for by drill and note, and kept with the plan")
{
    const auto page = plan_page(eight_weeks());
    do_at(*page, "Your voice as the model");
    do_at(*page, "Warm-up hold on F4");
    const auto asked = wishes_of<RecordModel>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].note == kF4);
    ModelVoice sung;
    sung.note = kF4;
    sung.flac.resize(4);
    page->recorded(sung);
    CHECK(words_of(page->view()).find("your voice") != std::string::npos);
    press_letter(*page, 'H');
    const auto heard = wishes_of<HearModel>(*page);
    REQUIRE(heard.size() == 1);
    CHECK(heard[0].model == sung);
    press_letter(*page, 'X');
    press_letter(*page, 'H');
    CHECK(wishes_of<HearModel>(*page).empty());
    CHECK(page->view().notice.find("the tone") != std::string::npos);
    press(*page, PressKey::Key::back);
    CHECK(words_of(page->view()).find("0 recordings") != std::string::npos);
}

TEST_CASE("a long list of drills is said with how many more there are")
{
    const DrillList drills{{DrillKind::warm_up_hold, 2},
                           {DrillKind::rising_glide, 2},
                           {DrillKind::falling_glide, 2},
                           {DrillKind::ladder_hold, 2}};
    CHECK(drills_in_brief(drills) == "warm-up hold twice, rising glide twice and 2 more");
    CHECK(drills_in_brief({drills[0]}) == "warm-up hold twice");
}

TEST_CASE("a plan can be saved while its title is being typed")
{
    const auto page = plan_page(eight_weeks());
    CHECK(go_to(*page, "Title") == Found::yes);
    type(*page, " II");
    const auto keys = page->view().keys;
    CHECK(std::ranges::any_of(keys, [](const PageKeyHint& k) { return k.key == "Ctrl S"; }));
    page->act(PressKey{.key = PressKey::Key::letter, .letter = 'S', .with = WithKey::control});
    CHECK(requests_of<SavePlan>(*page).size() == 1);
}

TEST_CASE("a template is taken over without being saved")
{
    const auto page = plan_page(eight_weeks());
    do_at(*page, "Begin from a template");
    REQUIRE(requests_of<ListTemplates>(*page).size() == 1);
    TemplatesListed listed;
    listed.plans = some_templates();
    page->hear(listed);
    do_at(*page, "Lower voice, twice a day");
    CHECK(value_at(*page, "Voice") == "lower voice");
    CHECK(value_at(*page, "Ladder") == "C3 D3 E3 F3 G3");
    CHECK(requests_of<SavePlan>(*page).empty());
}
