// A guided practice on the window: from a page's wish to the questions at its end.

#include <algorithm>
#include <map>
#include <utility>

#include "app/pages/pages.h"
#include "app/ui/view_model.h"

namespace holdwell {
namespace {

Practice practice_of(const StartPractice& wish)
{
    if (wish.already) return *wish.already;
    Practice practice;
    practice.client = wish.client.id;
    practice.plan = wish.plan.id;
    practice.plan_revision = wish.plan.revision;
    practice.taper_step = wish.plan.taper_step;
    practice.kind = wish.kind;
    practice.before = wish.before;
    practice.trials_asked = static_cast<int>(trials_of(wish.plan).size());
    return practice;
}

Practice baseline_of(const StartBaseline& wish, int trials)
{
    Practice practice;
    practice.client = wish.client.id;
    practice.kind = PracticeKind::in_session;
    practice.trials_asked = trials;
    return practice;
}

std::optional<Seconds> timed(const Measures& measures)
{
    if (const auto* hold = std::get_if<HoldMeasures>(&measures)) {
        return hold->has_gap || hold->doubt ? std::nullopt : std::optional{hold->hold_time};
    }
    if (const auto* sibilant = std::get_if<SibilantMeasures>(&measures)) return sibilant->length;
    return std::nullopt;
}

SoundMemory memory_of(const Preferences& preferences)
{
    return {.spl = preferences.spl, .last_check = preferences.last_check};
}

GuidedSounds sounds_of(const StartPractice& wish, const Preferences& preferences)
{
    const bool keeps = wish.plan.keeps == Keeps::audio_too && wish.client.keeps_audio;
    return {.models = wish.plan.models,
            .keeping = keeps ? ClipKeeping::on : ClipKeeping::off,
            .memory = memory_of(preferences)};
}

// One without a number is taken for it: then there is nobody else.
bool is_answer_to(RequestNumber asked, const Refused& refused)
{
    return refused.of == RequestNumber{} || refused.of == asked;
}

using Longest = std::map<std::pair<DrillKind, int>, Seconds>;

Longest longest_in(const ClientFile& file)
{
    Longest longest;
    for (const Practice& practice : file.practices) {
        for (const Trial& trial : practice.trials) {
            const auto length = timed(trial.measures);
            if (!length) continue;
            const std::pair key{trial.kind, trial.target ? trial.target->midi : 0};
            longest[key] = std::max(longest[key], *length);
        }
    }
    return longest;
}

}  // namespace

// ---- its beginning -----------------------------------------------------------------------------

// A voice from a file is nobody's practice: in a person's own records it would stand as hers.
void ViewModel::leave_demo()
{
    if (!model_.capture.playing_demo || model_.options.records == RecordsOf::example) return;
    model_.capture.playing_demo = false;
    post(ReopenMicrophone{});
}

void ViewModel::fulfil(const StartPractice& wish)
{
    leave_demo();
    Practice practice = practice_of(wish);
    GuideSetup setup = guide_setup_of(wish.plan, practice.trials);
    if (model_.capture.playing_demo) {
        setup.cue = NoteCue::silent;
        setup.opening = GuideSetup::Opening::at_once;
    }
    start_run({.client = wish.client,
               .plan = wish.plan,
               .practice = std::move(practice),
               .guided = GuidedPractice{std::move(setup), sounds_of(wish, model_.preferences)},
               .is_begun = wish.already.has_value()});
}

void ViewModel::fulfil(const StartBaseline& wish)
{
    leave_demo();
    GuideSetup setup =
        baseline_setup(wish.sounds == StartBaseline::Sounds::s_and_z ? BaselineSounds::s_and_z
                                                                     : BaselineSounds::s);
    const auto trials = static_cast<int>(setup.trials.size());
    const Plan none;
    start_run({.client = wish.client,
               .plan = none,
               .practice = baseline_of(wish, trials),
               .purpose = GuidedRun::Purpose::baseline,
               .guided = GuidedPractice{
                   std::move(setup),
                   {.models = {}, .keeping = {}, .memory = memory_of(model_.preferences)}}});
}

void ViewModel::start_run(GuidedRun run)
{
    run_.emplace(std::move(run));
    use_starts_of(run_->client);
    model_.longest.clear();
    if (!run_->is_begun) run_->beginning = ask(BeginPractice{run_->practice});
    ask(OpenClient{run_->client.id});  // for what was longest until now
    if (run_->is_begun) show_run();
}

void ViewModel::show_run()
{
    run_->is_begun = true;
    model_.last.reset();
    model_.discarded.reset();
    model_.hold = {};
    model_.glide = {};
    model_.previous_glide = {};
    model_.rest_since.reset();
    model_.records_notice.clear();
    if (run_->purpose == GuidedRun::Purpose::practice)
        model_.prescribed_line = run_->plan.pitch_line;
    if (const PlannedTrial* first = run_->guided.guide().current()) model_.drill = first->drill;
    send_to(Screen::practice);
    carry_on_run();
}

// ---- what comes of what happens ----------------------------------------------------------------

void ViewModel::tell_run(const Update& update)
{
    if (!run_ || !run_->is_begun) return;
    run_->guided.apply(update);
    carry_on_run();
}

void ViewModel::tell_run(const Answer& answer)
{
    if (!run_) return;
    if (const auto* opened = std::get_if<ClientOpened>(&answer)) {
        if (opened->file.client.id == run_->client.id) {
            for (const auto& [key, length] : longest_in(opened->file))
                model_.longest[key] = std::max(model_.longest[key], length);
        }
    }
    const auto* refused = std::get_if<Refused>(&answer);
    if (!run_->is_begun) {
        if (refused != nullptr && !is_answer_to(run_->beginning, *refused)) return;
        if (const auto* begun = std::get_if<PracticeBegun>(&answer)) {
            run_->practice = begun->practice;
            show_run();
        } else if (refused != nullptr) {
            show_run();  // it is practised all the same; that it is not kept is said
            model_.records_notice = refused->sentence;
        }
        return;
    }
    if (run_->keeping.empty()) return;
    const auto* kept = std::get_if<TrialKept>(&answer);
    if (kept == nullptr && refused == nullptr) return;
    if (refused != nullptr && !is_answer_to(run_->keeping.front(), *refused)) return;
    model_.records_notice = kept != nullptr ? kept->notice : refused->sentence;
    if (kept != nullptr) {
        const std::size_t at = run_->practice.trials.size() - run_->keeping.size();
        run_->practice.trials[at].id = kept->trial;
    }
    run_->keeping.erase(run_->keeping.begin());
    run_->guided.trial_stored();
    carry_on_run();
}

void ViewModel::carry_on_run()
{
    for (Command& command : run_->guided.take_commands()) {
        if (const auto* begin = std::get_if<BeginDrill>(&command)) show_drill(begin->drill);
        commands_.push_back(std::move(command));
    }
    for (HeardTrial& heard : run_->guided.take_trials()) {
        run_->practice.trials.push_back(heard.trial);
        std::optional<Clip> clip;
        if (!heard.clip.empty()) clip.emplace(Clip{{}, std::move(heard.clip)});
        run_->keeping.push_back(
            ask(KeepTrial{run_->practice.id, std::move(heard.trial), std::move(clip)}));
    }
    model_.guide = run_->guided.guide().view();
    if (run_->guided.wants_rating()) end_run();
}

void ViewModel::show_drill(const Drill& drill)
{
    const bool is_same = drill.kind == model_.drill.kind && drill.target == model_.drill.target;
    model_.drill = drill;
    model_.discarded.reset();
    model_.hold = {};
    if (!is_same) model_.previous_glide = {};
}

// ---- its end -----------------------------------------------------------------------------------

void ViewModel::end_run()
{
    GuidedRun run = std::move(*run_);
    drop_run();
    run.practice.completion = run.guided.guide().completion();
    run.practice.sound_check = run.guided.guide().sound_check();
    const bool is_empty =
        run.practice.trials.empty() && run.practice.completion == Completion::partial;
    if (is_empty || run.purpose == GuidedRun::Purpose::baseline) {
        ask(ClosePractice{std::move(run.practice)});
        return return_to_page();
    }
    // That something hurt is kept at once: the questions that follow may never be answered.
    if (run.practice.completion == Completion::stopped_for_discomfort) {
        ask(ClosePractice{run.practice});
    }
    model_.sent_to.reset();
    model_.screen = Screen::page;
    model_.page = 0;
    open_page(after_practice_page({.client = std::move(run.client),
                                   .plan = std::move(run.plan),
                                   .practice = std::move(run.practice)}));
}

// Left before the microphone was there: nothing that could be gone on with.
void ViewModel::abandon_run()
{
    if (!run_) return;
    Practice practice = run_->practice;
    drop_run();
    if (!practice.trials.empty()) return;
    practice.completion = Completion::partial;
    ask(ClosePractice{std::move(practice)});
}

void ViewModel::drop_run()
{
    run_.reset();
    // However it ended: no voice is kept, and no model of this plan played, outside a practice.
    post(KeepClips{ClipKeeping::off});
    post(UseModel{});
    model_.guide.reset();
    model_.prescribed_line.reset();
    model_.records_notice.clear();
}

// ---- keys --------------------------------------------------------------------------------------

bool ViewModel::steers_run(Action action)
{
    if (!run_ || !run_->is_begun || model_.screen != Screen::practice) return false;
    const GuidePhase phase = run_->guided.guide().phase();
    switch (action) {
    case Action::proceed:
        return press_run(GuideKey::go_on);
    case Action::pause_or_resume:
        return press_run(GuideKey::pause);
    case Action::next_drill:
        return press_run(GuideKey::skip);
    case Action::back:
        return press_run(GuideKey::stop);
    case Action::open_details:
        return phase == GuidePhase::asks_to_stop && press_run(GuideKey::hurts);
    case Action::open_help:
        if (phase != GuidePhase::paused && phase != GuidePhase::asks_to_stop)
            press_run(GuideKey::pause);
        return false;
    case Action::hear:
        return phase != GuidePhase::cue && phase != GuidePhase::listening;
    // The plan says what is sung, and the guide when the sound is checked.
    case Action::open_choices:
    case Action::open_tolerance:
    case Action::open_sound_check:
    case Action::check_again:
    case Action::play_demo:
        return true;
    default:
        return false;
    }
}

bool ViewModel::press_run(GuideKey key)
{
    run_->guided.press(key);
    carry_on_run();
    return true;
}

}  // namespace holdwell
