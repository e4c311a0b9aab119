#include "app/cli/measure_text.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "app/cli/phrases.h"
#include "app/engine/ear_words.h"
#include "dsp/tuning.h"

namespace holdwell {

namespace {

double count_of(Seconds s) { return s.count(); }
double ms_of(Seconds s) { return s.count() * 1000.0; }

std::string cents_in_words(double cents)
{
    const double whole = std::round(std::abs(cents));
    return fmt::format("{:.0f} {}", whole, whole == 1.0 ? "cent" : "cents");
}

std::string steadiness_in_words(Cents sd)
{
    if (sd.value < 0.95) return "varies by less than 1 cent";
    return "varies by about " + cents_in_words(sd.value);
}

// The note's name if it is one, else its frequency.
std::string name_of_pitch(Hertz pitch)
{
    const Note note = nearest_note(pitch);
    const double off = std::abs(interval_between(frequency_of(note), pitch).value);
    return off < 0.5 ? name_of(note) : fmt::format("{:.1f} Hz", pitch.value);
}

std::string sentence_of(std::string_view text)
{
    std::string sentence{text};
    if (!sentence.empty() && sentence.back() != '.') sentence += '.';
    return sentence;
}

std::string line(std::string_view label, std::string_view text)
{
    return fmt::format("    {:<14}{}\n", fmt::format("{}:", label), text);
}

std::string heading(std::string_view what, SampleIndex onset, SampleIndex offset, SampleRate rate)
{
    return fmt::format("  {} of {:.2f} s, from {:.2f} s to {:.2f} s\n", what,
                       count_of(duration_of(offset - onset, rate)), count_of(time_of(onset, rate)),
                       count_of(time_of(offset, rate)));
}

// ---- a hold ---------------------------------------------------------------------------------

std::string pitch_lines(const Hold& h, const ListeningTask& task)
{
    if (!h.f0_median) return line("pitch", "unknown");
    std::string text = line("pitch", pitch_in_words(*h.f0_median));
    if (h.f0_sd) text += line("steadiness", steadiness_in_words(*h.f0_sd));
    if (!task.target) return text;
    if (h.octaves_off != 0)
        text += line("target", octave_in_words(h.octaves_off));
    else if (h.deviation)
        text += line("target", deviation_in_words(*h.deviation, *task.target));
    if (h.in_band)
        text += line("time in band", fmt::format("{:.2f} s within {:.0f} cents of the target",
                                                 count_of(*h.in_band), task.band.value));
    return text;
}

std::string onset_line(const Onset& start)
{
    // The reason ends with the name.
    if (!start.reason.empty()) return line("onset", sentence_of(start.reason));
    return line("onset", name_of(start.named));
}

std::string interruption_lines(const Hold& h, SampleRate rate)
{
    std::string text;
    for (const Interruption& i : h.interruptions)
        text += line("interruption", fmt::format("{:.0f} ms at {:.2f} s", ms_of(i.duration),
                                                 count_of(time_of(i.at, rate))));
    return text;
}

std::string quality_line(const Quality& q)
{
    return line("quality",
                fmt::format("jitter {:.2f} %, shimmer {:.2f} %, harmonics-to-noise {:.1f} dB, "
                            "cepstral peak {:.1f} dB",
                            q.jitter_percent, q.shimmer_percent, q.hnr.value, q.cpps.value));
}

std::string hold_text(const Hold& h, SampleRate rate, const ListeningTask& task)
{
    std::string text = heading("Hold", h.onset, h.offset, rate);
    text += pitch_lines(h, task);
    text += onset_line(h.start);
    text += interruption_lines(h, rate);
    if (h.fry > 0s) text += line("fry", fmt::format("{:.2f} s, not counted", count_of(h.fry)));
    text += line("level",
                 fmt::format("{:.0f} dBFS, {:.0f} dB above the room", h.level.value, h.snr.value));
    if (h.quality) text += quality_line(*h.quality);
    if (h.doubt) text += line("in doubt", doubt_words(*h.doubt));
    if (h.like_a_machine && h.doubt != Doubt::machine) text += line("pitch", kLikeAMachine);
    return text;
}

// ---- a glide --------------------------------------------------------------------------------

std::string break_in_words(const PitchBreak& b, SampleRate rate)
{
    const double at = count_of(time_of(b.at, rate));
    if (b.kind == BreakKind::jump && b.size)
        return fmt::format("a jump {} of {:.1f} semitones at {:.2f} s",
                           b.size->value > 0.0 ? "up" : "down", std::abs(b.size->value), at);
    if (b.kind == BreakKind::gap && b.gap)
        return fmt::format("a gap of {:.0f} ms at {:.2f} s", ms_of(*b.gap), at);
    return fmt::format("at {:.2f} s", at);
}

std::string glide_text(const Glide& g, SampleRate rate)
{
    const bool up = g.direction == GlideDirection::up;
    std::string text = heading(up ? "Rising glide" : "Falling glide", g.onset, g.offset, rate);
    if (g.lowest) text += line("lowest", pitch_in_words(*g.lowest));
    if (g.highest) text += line("highest", pitch_in_words(*g.highest));
    if (g.lowest && g.highest)
        text += line("range", fmt::format("{:.1f} semitones",
                                          semitones_between(*g.lowest, *g.highest).value));
    for (const PitchBreak& b : g.breaks) text += line("pitch break", break_in_words(b, rate));
    if (g.fry > 0s) text += line("fry", fmt::format("{:.2f} s, not counted", count_of(g.fry)));
    return text;
}

// ---- the file -------------------------------------------------------------------------------

std::string sibilant_text(std::string_view what, const Sibilant& s, SampleRate rate)
{
    return heading(what, s.onset, s.offset, rate) +
           line("level", fmt::format("{:.0f} dBFS", s.level.value));
}

std::string about_recording(const Measured& m)
{
    std::string text =
        fmt::format("  Recording of {:.2f} s at {:g} kHz",
                    count_of(duration_of(m.length, m.sample_rate)), m.sample_rate.hz / 1000.0);
    if (m.noise_floor) text += fmt::format(", room noise {:.0f} dBFS", m.noise_floor->value);
    text += ".\n";
    if (m.clipped_samples > 0)
        text += fmt::format("  The microphone was overloaded ({} samples clipped): sing farther "
                            "from it or turn it down.\n",
                            m.clipped_samples);
    for (const MicrophoneProcessing kind : m.processing)
        text += fmt::format("  {}\n", processing_words(kind));
    return text;
}

std::string_view sought_in_words(Sought sought)
{
    switch (sought) {
    case Sought::any:
        return "hold or glide";
    case Sought::hold:
        return "hold";
    case Sought::s_hold:
        return "/s/ hold";
    case Sought::z_hold:
        return "/z/ hold";
    case Sought::glide_up:
        return "rising glide";
    case Sought::glide_down:
        return "falling glide";
    }
    return "hold";
}

}  // namespace

std::string pitch_in_words(Hertz f0)
{
    const Note note = nearest_note(f0);
    const double off = interval_between(frequency_of(note), f0).value;
    if (std::abs(off) < 0.5) return fmt::format("{:.1f} Hz ({})", f0.value, name_of(note));
    return fmt::format("{:.1f} Hz ({}, {} {})", f0.value, name_of(note), cents_in_words(off),
                       off > 0.0 ? "high" : "low");
}

std::string deviation_in_words(Cents deviation, Hertz from)
{
    if (std::abs(deviation.value) < 0.5) return "exactly on " + name_of_pitch(from);
    return fmt::format("{} {} {}", cents_in_words(deviation.value),
                       deviation.value > 0.0 ? "above" : "below", name_of_pitch(from));
}

std::string as_text(const FileMeasures& measures, const ListeningTask& task)
{
    std::string text = printable(measures.file) + "\n";
    if (!measures.measured) return text + "  Not measured.\n";
    const Measured& m = *measures.measured;
    text += about_recording(m);
    if (measures.error) text += "  The recording is cut off, so the last time may be too short.\n";
    std::string found;
    for (const Hold& h : m.heard.holds) found += hold_text(h, m.sample_rate, task);
    for (const Sibilant& s : m.heard.s_holds) found += sibilant_text("/s/ hold", s, m.sample_rate);
    for (const Sibilant& s : m.heard.z_holds) found += sibilant_text("/z/ hold", s, m.sample_rate);
    for (const Glide& g : m.heard.glides) found += glide_text(g, m.sample_rate);
    if (!found.empty()) return text + found;
    return text + fmt::format("  No {} of {:g} s or longer was heard.\n",
                              sought_in_words(task.sought), count_of(task.shortest));
}

}  // namespace holdwell
