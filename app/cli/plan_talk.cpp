#include "app/cli/plan_talk.h"

#include <fmt/format.h>

#include <utility>

#include "app/cli/phrases.h"
#include "app/practice/drill_words.h"
#include "dsp/sibilant.h"

namespace holdwell {

namespace {

std::string name_of_drill(const Drill& drill)
{
    if (!has_target(drill.kind)) return name_of(drill.kind);
    return fmt::format("{} on {}", name_of(drill.kind), name_of(drill.target));
}

const char* line_when_ready(DrillKind kind)
{
    switch (kind) {
    case DrillKind::rising_glide:
        return "Glide up softly, low to high, when you are ready.";
    case DrillKind::falling_glide:
        return "Glide down softly, high to low, when you are ready.";
    case DrillKind::s_hold:
        return "Let out a long, quiet /s/ when you are ready.";
    case DrillKind::z_hold:
        return "Let out a long, soft /z/ when you are ready.";
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold:
        break;
    }
    return "Sing softly when you are ready.";
}

std::string line_of(const Glide& glide)
{
    if (!glide.lowest || !glide.highest) return "A short glide.";
    const std::string breaks =
        glide.breaks.empty()
            ? "no break"
            : fmt::format("{} {}", count_in_words(static_cast<int>(glide.breaks.size())),
                          glide.breaks.size() == 1 ? "break" : "breaks");
    return fmt::format("A glide over {:.0f} semitones, {}.",
                       semitones_between(*glide.lowest, *glide.highest).value, breaks);
}

}  // namespace

PlanTalk::PlanTalk(GuidedPractice guided, Practice practice, Office& office, const Console& console)
    : guided_{std::move(guided)}, practice_{std::move(practice)}, office_{office}, console_{console}
{
}

void PlanTalk::begin() { carry_on(); }

void PlanTalk::hear(const Update& update)
{
    if (const auto* capture = std::get_if<CaptureChanged>(&update)) {
        if (capture->sample_rate.hz > 0.0) rate_ = capture->sample_rate;
        if (capture->state == CaptureState::live && !capture->device.empty())
            say(fmt::format("Listening to {}.", printable(capture->device)));
        if (capture->state == CaptureState::recording_ended && capture->sample_rate.hz > 0.0)
            say(kRecordingEnded);
        else if (!capture->message.empty())
            say(printable(capture->message));
        capture_ = *capture;
    } else if (hold_lines_) {
        for (const std::string& line : hold_lines_->apply(update)) say(line);
    } else if (drill_) {
        say_of_other_drills(update);
    }
    guided_.apply(update);
    carry_on();
}

void PlanTalk::say_of_other_drills(const Update& update)
{
    if (const auto* changed = std::get_if<StageChanged>(&update)) {
        if (changed->stage == Stage::ready) say(line_when_ready(drill_->kind));
        if (changed->stage == Stage::sounding) say("I hear you.");
    } else if (const auto* glide = std::get_if<GlideFinished>(&update)) {
        say(line_of(glide->glide));
    } else if (const auto* finished = std::get_if<SibilantFinished>(&update)) {
        const Sibilant& s = finished->sibilant;
        say(fmt::format("Held for {}.", seconds_in_words(duration_of(s.offset - s.onset, rate_))));
        if (s.fading_suspected) say(kFadingSentence);
    } else if (const auto* refused = std::get_if<DrillRefused>(&update)) {
        say(refused->sentence);
    }
}

void PlanTalk::type(const std::string& line)
{
    if (line.empty() || line == "a") guided_.press(GuideKey::go_on);
    if (line == "p") guided_.press(GuideKey::pause);
    if (line == "n") guided_.press(GuideKey::skip);
    if (line == "q") guided_.press(GuideKey::stop);
    if (line == "x") guided_.press(GuideKey::hurts);
    carry_on();
}

void PlanTalk::stop()
{
    guided_.press(GuideKey::stop);
    guided_.press(GuideKey::stop);
    carry_on();
}

std::vector<Command> PlanTalk::take_commands() { return std::exchange(commands_, {}); }

Practice PlanTalk::practice() const
{
    Practice practice = practice_;
    practice.completion = guided_.guide().completion();
    practice.sound_check = guided_.guide().sound_check();
    return practice;
}

void PlanTalk::carry_on()
{
    for (HeardTrial& heard : guided_.take_trials()) keep(std::move(heard));
    for (Command& command : guided_.take_commands()) {
        if (const auto* begin = std::get_if<BeginDrill>(&command)) begin_drill(begin->drill);
        commands_.push_back(std::move(command));
    }
    say_phase();
}

void PlanTalk::keep(HeardTrial heard)
{
    Trial trial = std::move(heard.trial);
    std::optional<Clip> clip;
    if (!heard.clip.empty()) clip.emplace(Clip{{}, std::move(heard.clip)});
    const Answer answer = office_.answer(KeepTrial{practice_.id, trial, std::move(clip)});
    std::string notice;
    if (const auto* kept = std::get_if<TrialKept>(&answer)) {
        trial.id = kept->trial;
        notice = kept->notice;
    } else if (const auto* refused = std::get_if<Refused>(&answer)) {
        notice = refused->sentence;
    }
    if (!notice.empty() && notice != notice_) say(notice);
    notice_ = notice;
    practice_.trials.push_back(std::move(trial));
    guided_.trial_stored();
}

void PlanTalk::begin_drill(const Drill& drill)
{
    drill_ = drill;
    hold_lines_.reset();
    if (has_target(drill.kind)) {
        hold_lines_.emplace(drill);
        if (capture_) static_cast<void>(hold_lines_->apply(*capture_));  // for its rate
    }
    const GuideView view = guided_.guide().view();
    std::string line = fmt::format("{}: {}", view.headline, name_of_drill(drill));
    if (view.repetitions > 1)
        line += fmt::format(", {} of {}", ordinal_in_words(view.repetition),
                            count_in_words(view.repetitions));
    say(line + ".");
}

void PlanTalk::say(const std::string& line) { console_.out << line << std::endl; }

// Once for each phase; what counts down is said at its beginning.
void PlanTalk::say_phase()
{
    const GuideView view = guided_.guide().view();
    std::string line = view.line;
    if (view.phase == GuidePhase::resting && line.empty()) line = view.second;
    if (view.phase == GuidePhase::paused) line += " Press Enter to go on.";
    if (view.phase == GuidePhase::asks_to_stop)
        line += " Type q to stop, x if something hurts; Enter goes on.";
    if (view.phase == GuidePhase::rating) line.clear();
    const std::string once = fmt::format("{}/{}/{}", static_cast<int>(view.phase), view.headline,
                                         view.phase == GuidePhase::resting ? "" : line);
    if (once == std::exchange(said_, once) || line.empty()) return;
    say(line);
}

}  // namespace holdwell
