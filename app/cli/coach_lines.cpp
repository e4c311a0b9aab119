#include "app/cli/coach_lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "app/cli/phrases.h"
#include "app/engine/ear_words.h"
#include "dsp/tuning.h"

namespace holdwell {

namespace {

using Lines = std::vector<std::string>;

constexpr Seconds kBetweenMarks{5.0};
// Chosen by us. Untrained adults stray 46 cents on average from a voice they match (Granot et al.,
// Journal of Voice, 2013).
constexpr Cents kWorthALine{30.0};
constexpr Seconds kBeforeOctave{1.0};
constexpr Seconds kBeforeFirstWord{0.5};  // a cough is not worth a line

std::string in_words(Seconds s)
{
    const double tenths = std::round(s.count() * 10.0) / 10.0;
    if (tenths == 1.0) return "1 second";
    return fmt::format("{:g} seconds", tenths);
}

std::string gaps_in_words(std::size_t gaps)
{
    return gaps == 1 ? "There was one short gap." : fmt::format("There were {} short gaps.", gaps);
}

std::string nearness_in_words(const Hold& hold, Seconds held)
{
    if (hold.octaves_off != 0) return "That was " + octave_in_words(hold.octaves_off) + ".";
    if (!hold.in_band || !hold.deviation) return {};
    const char* side = hold.deviation->value > 0.0 ? "high" : "low";
    if (*hold.in_band >= held * 0.95) {
        if (std::abs(hold.deviation->value) < kWorthALine.value)
            return "Near the note all the way.";
        return fmt::format("Near the note all the way, if a little {}.", side);
    }
    if (*hold.in_band < held * 0.05)
        return fmt::format("It was too {} to count as near, by about {:.1f} semitones; listen to "
                           "the note once more.",
                           side, std::abs(hold.deviation->value) / 100.0);
    return fmt::format("Near the note for {}; on the whole a little {}.", in_words(*hold.in_band),
                       side);
}

std::string onset_in_words(const Onset& onset)
{
    switch (onset.named) {
    case OnsetClass::easy:
        return "The start sounded easy.";
    case OnsetClass::hard:
        return "The start sounded hard: let the breath and the voice begin together.";
    case OnsetClass::breathy:
        return "Air came before the voice.";
    case OnsetClass::unsure:
        break;
    }
    return {};
}

void add(Lines& lines, std::string line)
{
    if (!line.empty()) lines.push_back(std::move(line));
}

template <typename... Cases>
struct Overloaded : Cases... {
    using Cases::operator()...;
};
template <typename... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

}  // namespace

CoachLines::CoachLines(const Drill& drill) : drill_{drill} {}

Lines CoachLines::opening() const
{
    Lines lines{fmt::format("Holdwell. The note is {}, {:.1f} hertz.", name_of(drill_.target),
                            frequency_of(drill_.target).value)};
    if (drill_.goal)
        lines.push_back(fmt::format("Hold it softly; the goal is {}.", in_words(*drill_.goal)));
    else
        lines.push_back("Hold it softly, for as long as the breath is easy.");
    lines.push_back(
        fmt::format("Near enough is within {:g} cents, higher or lower.", drill_.band.value));
    return lines;
}

Lines CoachLines::apply(const Update& update)
{
    return std::visit(Overloaded{
                          [this](const StageChanged& u) { return at_stage(u.stage); },
                          [this](const FrameHeard& u) { return at_frame(u); },
                          [this](const TrialFinished& u) { return at_trial(u); },
                          [this](const CaptureChanged& u) { return at_capture(u); },
                          [this](const TrialDiscarded& u) { return at_discarded(u); },
                          [this](const SamplesLost& u) {
                              if (u.count.value == 0) return Lines{};
                              return Lines{fmt::format("The computer lost {} of sound.",
                                                       in_words(duration_of(u.count, rate_)))};
                          },
                          [](const ProcessingChanged& u) {
                              return u.heard ? Lines{processing_words(*u.heard)} : Lines{};
                          },
                          [](const DrillRefused& u) { return Lines{u.sentence}; },
                          [](const auto&) { return Lines{}; },
                      },
                      update);
}

Lines CoachLines::at_stage(Stage stage)
{
    if (stage == std::exchange(stage_, stage)) return {};
    switch (stage) {
    case Stage::playing:
        return {fmt::format("Listen: this is {}.", name_of(drill_.target))};
    case Stage::settling:
        return {"Now breathe in."};
    case Stage::ready:
        return {fmt::format("Sing {} softly when you are ready.", name_of(drill_.target))};
    case Stage::sounding:
    case Stage::paused:
    case Stage::finished:
    case Stage::checking_room:
    case Stage::checking_voice:
        break;
    }
    return {};
}

void CoachLines::begin_hold()
{
    next_mark_ = kBetweenMarks;
    heard_said_ = false;
    goal_said_ = false;
    octave_said_ = false;
    lie_ = {};
}

Lines CoachLines::at_frame(const FrameHeard& frame)
{
    if (!frame.under_way) {
        holding_ = false;
        return {};
    }
    const UnderWay& now = *frame.under_way;
    if (!std::exchange(holding_, true)) begin_hold();
    Lines lines;
    note_lie(frame);
    if (now.so_far >= kBeforeFirstWord && !std::exchange(heard_said_, true))
        lines.push_back("I hear you.");
    if (now.octaves_off != 0 && now.so_far >= kBeforeOctave && !octave_said_) {
        lines.push_back(fmt::format("It is {}. Go on.", octave_in_words(now.octaves_off)));
        octave_said_ = true;
    }
    if (drill_.goal && !goal_said_ && now.so_far >= *drill_.goal) {
        lines.push_back(
            fmt::format("{}: the goal. Stop whenever you like.", in_words(*drill_.goal)));
        goal_said_ = true;
    }
    if (now.so_far < next_mark_) return lines;
    const bool said_with_goal = drill_.goal && next_mark_ == *drill_.goal;
    if (!said_with_goal)
        lines.push_back(
            fmt::format("{}{}", in_words(next_mark_), now.octaves_off == 0 ? lie_in_words() : "."));
    next_mark_ += kBetweenMarks;
    lie_ = {};
    return lines;
}

void CoachLines::note_lie(const FrameHeard& frame)
{
    if (!frame.reading.f0) return;
    const Cents off = interval_between(frequency_of(drill_.target), *frame.reading.f0);
    if (std::abs(off.value) <= drill_.band.value)
        ++lie_.near;
    else if (off.value > 0.0)
        ++lie_.high;
    else
        ++lie_.low;
}

std::string CoachLines::lie_in_words()
{
    if (lie_.near == 0 && lie_.high == 0 && lie_.low == 0) return ".";
    if (lie_.near >= std::max(lie_.high, lie_.low)) return ", near enough.";
    return lie_.high > lie_.low ? ", a little high: let it sink."
                                : ", a little low: let it float "
                                  "up.";
}

Lines CoachLines::at_trial(const TrialFinished& trial)
{
    const Hold& hold = trial.hold;
    const Seconds held = duration_of(hold.offset - hold.onset, rate_);
    const bool longest = best_ && held > *best_ && may_be_a_best(hold);
    if (may_be_a_best(hold)) best_ = std::max(best_.value_or(held), held);
    ++trials_;

    Lines lines{fmt::format("Held for {}.{}", in_words(held), longest ? " Longest yet." : "")};
    if (drill_.goal && held >= *drill_.goal && may_be_a_best(hold))
        lines.back() += " Goal reached.";
    add(lines, hold.doubt ? doubt_words(*hold.doubt) : nearness_in_words(hold, held));
    add(lines, onset_in_words(hold.start));
    if (!hold.interruptions.empty()) add(lines, gaps_in_words(hold.interruptions.size()));
    if (hold.like_a_machine && hold.doubt != Doubt::machine)
        add(lines, fmt::format("It was {}.", kLikeAMachine));
    if (trial.loudness == Loudness::much_louder)
        add(lines, "It was louder than it need be: softer is enough.");
    if (hold.has_gap) add(lines, "Some sound was lost in it, so it does not count as a best.");
    return lines;
}

Lines CoachLines::at_discarded(const TrialDiscarded& discarded)
{
    if (!heard_said_) {
        stage_ = Stage::ready;  // nothing was said, so what was said last still holds
        return {};
    }
    return {fmt::format("That was {}: too short to count.", in_words(discarded.duration))};
}

Lines CoachLines::at_capture(const CaptureChanged& capture)
{
    if (capture.sample_rate.hz > 0.0) rate_ = capture.sample_rate;
    if (capture.state == CaptureState::recording_ended) return {kRecordingEnded};
    if (!capture.message.empty()) return {printable(capture.message)};
    if (capture.state == CaptureState::live && !capture.device.empty())
        return {fmt::format("Listening to {}.", printable(capture.device))};
    return {};
}

Lines CoachLines::closing() const
{
    if (trials_ == 0) return {"No hold of a second or longer was heard."};
    const std::string count = trials_ == 1 ? "One hold" : fmt::format("{} holds", trials_);
    if (!best_) return {count + "."};
    if (trials_ == 1) return {fmt::format("{}, of {}.", count, in_words(*best_))};
    return {fmt::format("{}; the longest was {}.", count, in_words(*best_))};
}

}  // namespace holdwell
