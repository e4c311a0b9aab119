#include "app/ui/words.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdlib>

namespace holdwell {
namespace {

const char* ordinal(int n)
{
    constexpr std::array kNames{"first", "second", "third", "fourth", "fifth", "sixth"};
    const auto i = static_cast<std::size_t>(n);
    return n >= 0 && i < kNames.size() ? kNames[i] : nullptr;
}

const char* octaves_in_words(int octaves)
{
    constexpr std::array kNames{"one octave", "two octaves", "three octaves", "four octaves"};
    const auto i = static_cast<std::size_t>(std::abs(octaves) - 1);
    return i < kNames.size() ? kNames[i] : "some octaves";
}

std::string with_capital(std::string text)
{
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    }
    return text;
}

// How much of the hold was near enough. The limits are ours: the words should be true and kind.
std::string nearness_of(double share, Cents deviation)
{
    if (share >= 0.97) return "Near enough all the way.";
    if (share >= 0.80) return "Near enough nearly all the way.";
    if (share >= 0.50) return "Near enough most of the way.";
    const char* side = deviation.value > 0.0 ? "above" : "below";
    if (share >= 0.15) return fmt::format("Near enough part of the way, otherwise {} it.", side);
    return fmt::format("It lay {} the note. Press H to hear it again.", side);
}

std::string nearness_of(const FinishedHold& f)
{
    if (!has_target(f.drill.kind)) return {};
    if (f.hold.octaves_off != 0) {
        return with_capital(octave_words(f.hold.octaves_off)) + ": that is fine.";
    }
    if (!f.hold.in_band || f.length <= Seconds{0.0}) return {};
    return nearness_of(*f.hold.in_band / f.length, f.hold.deviation.value_or(Cents{0.0}));
}

std::string achievement_of(const FinishedHold& f)
{
    const bool reached = f.drill.goal && may_be_a_best(f.hold) &&
                         rounded_to_tenth(f.length) >= rounded_to_tenth(*f.drill.goal);
    if (reached && f.rank == Rank::longest) return "Goal reached, longest yet.";
    if (reached) return "Goal reached.";
    return f.rank == Rank::longest ? "Longest yet." : "";
}

std::string joined(const std::array<std::string, 3>& sentences)
{
    std::string text;
    for (const std::string& s : sentences) {
        if (!text.empty() && !s.empty()) text += ' ';
        text += s;
    }
    return text;
}

}  // namespace

std::string signed_number(double value)
{
    return fmt::format("{}{:.1f}", value < 0.0 ? "\u2212" : "", std::abs(value));
}

std::string signed_whole(double value)
{
    return fmt::format("{}{:.0f}", value < 0.0 ? "\u2212" : "", std::abs(value));
}

std::string signed_cents(Cents c)
{
    const double value = std::round(c.value);
    if (value == 0.0) return "0 cents";
    // A true minus sign, as wide as the plus.
    return fmt::format("{}{:.0f} {}", value > 0.0 ? "+" : "\u2212", std::abs(value),
                       std::abs(value) == 1.0 ? "cent" : "cents");
}

std::string aim_of(const Drill& drill, int done)
{
    std::string aim =
        is_glide(drill.kind) ? "as far as it goes easily" : "as long as the breath is easy";
    if (drill.goal && !is_glide(drill.kind)) {
        aim = fmt::format("towards {}, while the breath is easy", seconds_in_words(*drill.goal));
    }
    constexpr int kTrials = 2;  // each drill twice: the routine's usual count
    if (done < kTrials) return fmt::format("{} of two, {}", ordinal(done), aim);
    if (const char* name = ordinal(done)) return fmt::format("{} time, {}", name, aim);
    return "once more, " + aim;
}

std::string line_when_ready(const Drill& drill)
{
    switch (drill.kind) {
    case DrillKind::rising_glide:
        return "Breathe in, then glide up softly, low to high.";
    case DrillKind::falling_glide:
        return "Breathe in, then glide down softly, high to low.";
    case DrillKind::s_hold:
        return "Breathe in, then let out a long, quiet /s/.";
    case DrillKind::z_hold:
        return "Breathe in, then let out a long, soft /z/.";
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold:
        break;
    }
    return fmt::format("Breathe in, then sing {} softly.",
                       name_of(drill.target, Spelling::display));
}

std::string line_when_paused() { return "Paused. Press Space to go on."; }

std::string line_when_playing(const Drill& drill)
{
    return fmt::format("Listen: this is {}.", name_of(drill.target, Spelling::display));
}

std::string line_when_settling(Seconds so_far)
{
    constexpr Seconds kBreath{3.0};
    return so_far < kBreath ? "Now breathe in\u2026"
                            : "Something still sounds. Begin when it is quiet.";
}

std::string line_when_sounding(const Sounding& now)
{
    if (now.past_goal) return "Past the goal. Stop whenever you like.";
    if (now.loudness == Loudness::much_louder) return "Softer is enough. Let the air do the work.";
    if (is_glide(now.kind)) return "Keep it soft. Let the voice travel.";
    if (now.kind == DrillKind::s_hold) return "Quiet and even.";
    switch (now.lie) {
    case Lie::near:
        return "Near enough. Let the air do the work.";
    case Lie::high:
        return "A little high. Let it sink.";
    case Lie::low:
        return "A little low. Let it float up.";
    case Lie::other_octave:
        return with_capital(octave_words(now.octaves_off)) + ". Go on.";
    case Lie::unknown:
        break;
    }
    return "Soft and easy. Let the air do the work.";
}

std::string line_when_finished(const FinishedHold& f)
{
    const std::string judged = f.hold.doubt ? doubt_words(*f.hold.doubt) : nearness_of(f);
    return joined({seconds_in_words(f.length) + ".", judged, achievement_of(f)});
}

std::string line_when_glided(const Glide& glide)
{
    if (!glide.lowest || !glide.highest) {
        return "A short glide. Take your time, and let it travel.";
    }
    const double range = semitones_between(*glide.lowest, *glide.highest).value;
    const std::string breaks = glide.breaks.empty() ? "No break."
                               : glide.breaks.size() == 1
                                   ? "One break."
                                   : fmt::format("{} breaks.", glide.breaks.size());
    return fmt::format("{} to {}: {:.0f} semitones. {}",
                       name_of(nearest_note(*glide.lowest), Spelling::display),
                       name_of(nearest_note(*glide.highest), Spelling::display), range, breaks);
}

std::string line_when_hissed(Seconds length, Rank rank)
{
    return joined(
        {seconds_in_words(length) + ".", "", rank == Rank::longest ? "Longest yet." : ""});
}

std::string onset_words(const Onset& onset)
{
    switch (onset.named) {
    case OnsetClass::easy:
        return "easy start";
    case OnsetClass::hard:
        return "hard start";
    case OnsetClass::breathy:
        return "breathy start: air came before the voice";
    case OnsetClass::unsure:
        break;
    }
    return {};
}

std::string octave_words(int octaves_off)
{
    if (octaves_off == 0) return {};
    return fmt::format("right note, {} {}", octaves_in_words(octaves_off),
                       octaves_off > 0 ? "up" : "down");
}

std::string gap_words(int interruptions)
{
    if (interruptions <= 0) return {};
    return interruptions == 1 ? "one short gap" : fmt::format("{} short gaps", interruptions);
}

std::string end_words(HoldEnd end)
{
    switch (end) {
    case HoldEnd::voice_stopped:
        return "the voice stopped";
    case HoldEnd::fry:
        return "the voice went into fry";
    case HoldEnd::faded:
        return "the voice faded away";
    case HoldEnd::stream_ended:
        return "the recording ended";
    }
    return {};
}

std::string room_words(RoomVerdict verdict)
{
    switch (verdict) {
    case RoomVerdict::quiet:
        return "room quiet";
    case RoomVerdict::usable:
        return "room quiet enough";
    case RoomVerdict::noisy:
        return "room noisy";
    }
    return {};
}

std::string lost_words(SampleCount lost, SampleRate rate)
{
    if (lost.value <= 0) return {};
    if (rate.hz <= 0.0) return "Some sound was lost by the computer.";
    const double ms = duration_of(lost, rate).count() * 1000.0;
    if (ms < 1000.0)
        return fmt::format("{:.0f} ms of sound was lost by the computer.", std::ceil(ms));
    return fmt::format("{} of sound was lost by the computer.",
                       seconds_in_words(duration_of(lost, rate)));
}

}  // namespace holdwell
