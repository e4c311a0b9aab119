#pragma once
// The fields of every record in a file, each named once: the same description writes them and reads
// them back, so that the two cannot drift apart.
//
// A visitor is called as fields(key, member, limits) for a quantity or a count, fields(key, member,
// words) for one of several words, fields(key, member) for yes or no, a day or an id. Absent is
// null. The limits are those of the plausible, wide enough for anything that a voice, a room or a
// calendar can do; a value beyond them is a fault of the file.

#include <cstddef>
#include <string_view>

#include "app/files/record_words.h"
#include "app/practice/client_code.h"
#include "app/practice/records.h"

namespace holdwell {

struct NumberLimits {
    double lowest;
    double highest;
    std::string_view unit;  // may be empty
};

// Longest texts, in bytes: four times the letters that may be typed.
inline constexpr std::size_t kLongestRemark = 2400;
inline constexpr std::size_t kLongestCode = 4 * kMostCodeLetters;
inline constexpr std::size_t kLongestFingerprint = 400;
inline constexpr std::size_t kLongestSound = 40;

inline constexpr NumberLimits kUpToADay{0.0, 86'400.0, "s"};
inline constexpr NumberLimits kUpToAnHour{0.0, 3'600.0, "s"};
inline constexpr NumberLimits kAudible{1.0, 20'000.0, "Hz"};
inline constexpr NumberLimits kAnyCents{-12'000.0, 12'000.0, "cents"};
inline constexpr NumberLimits kAnyDecibels{-300.0, 300.0, "dB"};
inline constexpr NumberLimits kAnyLevel{-300.0, 20.0, "dBFS"};
inline constexpr NumberLimits kAnyCount{0.0, 1e6, ""};
inline constexpr NumberLimits kFromOne{1.0, 1e6, ""};
inline constexpr NumberLimits kZeroToTen{0.0, 10.0, ""};
inline constexpr NumberLimits kAnyPercent{0.0, 10'000.0, "%"};

template <typename Fields>
void describe(Fields& fields, Quality& q)
{
    fields("jitter_percent", q.jitter_percent, kAnyPercent);
    fields("shimmer_percent", q.shimmer_percent, kAnyPercent);
    fields("hnr_db", q.hnr, kAnyDecibels);
    fields("cpps_db", q.cpps, kAnyDecibels);
}

template <typename Fields>
void describe(Fields& fields, HoldMeasures& m)
{
    fields("hold_s", m.hold_time, kUpToAnHour);
    fields("in_band_s", m.in_band, kUpToAnHour);
    fields("f0_median_hz", m.f0_median, kAudible);
    fields("deviation_cents", m.deviation, kAnyCents);
    fields("f0_sd_cents", m.f0_sd, kAnyCents);
    fields("octaves_off", m.octaves_off, NumberLimits{-10.0, 10.0, ""});
    fields("interruptions", m.interruptions, kAnyCount);
    fields("interrupted_s", m.interrupted, kUpToAnHour);
    fields("onset", m.onset, kOnsetNames);
    fields("onset_rise_s", m.rise, kUpToAnHour);
    fields("air_lead_s", m.air_lead, kUpToAnHour);
    fields("ended_by", m.ended_by, kHoldEndNames);
    fields("fry_s", m.fry, kUpToAnHour);
    fields("snr_db", m.snr, kAnyDecibels);
    fields("loudness_db", m.loudness, kAnyDecibels);
    fields.part("quality", m.quality);
    fields("samples_lost", m.has_gap);
    fields("doubt", m.doubt, kDoubtNames);
}

template <typename Fields>
void describe(Fields& fields, GlideMeasures& m)
{
    fields("direction", m.direction, kDirectionNames);
    fields("length_s", m.length, kUpToAnHour);
    fields("lowest_hz", m.lowest, kAudible);
    fields("highest_hz", m.highest, kAudible);
    fields("jumps", m.jumps, kAnyCount);
    fields("gaps", m.gaps, kAnyCount);
    fields("largest_jump_semitones", m.largest_jump, NumberLimits{0.0, 120.0, "semitones"});
    fields("fry_s", m.fry, kUpToAnHour);
    fields("smoothness", m.smoothness, NumberLimits{0.0, 1.0, ""});
    fields("samples_lost", m.has_gap);
}

template <typename Fields>
void describe(Fields& fields, SibilantMeasures& m)
{
    fields("length_s", m.length, kUpToAnHour);
    fields("fading_suspected", m.fading_suspected);
    fields("samples_lost", m.has_gap);
}

template <typename Fields>
void describe(Fields& fields, Trial& t)
{
    fields("id", t.id);
    fields("number", t.number, kFromOne);
    fields("drill", t.kind, kDrillKindNames);
    fields("target", t.target);
    fields("repetition", t.repetition, kFromOne);
    fields("goal_s", t.goal, kUpToAnHour);
    fields("band_cents", t.band, NumberLimits{1.0, 1'200.0, "cents"});
    fields("begun_s", t.begun, kUpToADay);
    fields.measures(t.measures, t.kind);
}

template <typename Fields>
void describe(Fields& fields, BeforePractice& b)
{
    fields("pain", b.pain);
    fields("hoarser", b.hoarser);
    fields("unwell", b.unwell);
    fields("on_voice_rest", b.on_voice_rest);
}

template <typename Fields>
void describe(Fields& fields, SelfRating& r)
{
    fields("effort", r.effort, kZeroToTen);
    fields("discomfort", r.discomfort, kZeroToTen);
}

template <typename Fields>
void describe(Fields& fields, SoundCheckSummary& s)
{
    fields("room_dbfs", s.room, kAnyLevel);
    fields("voice_dbfs", s.voice, kAnyLevel);
    fields("sample_rate_hz", s.sample_rate, NumberLimits{0.0, 1e6, "Hz"});
    fields("fingerprint", s.fingerprint, kLongestFingerprint);
}

template <typename Fields>
void describe(Fields& fields, Practice& p)
{
    fields("id", p.id);
    fields.id_or_null("plan", p.plan);
    fields("plan_revision", p.plan_revision, kAnyCount);
    fields("taper_step", p.taper_step, NumberLimits{0.0, 12.0, ""});
    fields("kind", p.kind, kPracticeKindNames);
    fields("day", p.begun.date);
    fields("time", p.begun.time);
    fields("completion", p.completion, kCompletionNames);
    fields("trials_asked", p.trials_asked, kAnyCount);
    fields.part("before", p.before);
    fields.part("rating", p.rating);
    fields.part("sound_check", p.sound_check);
    fields("remark", p.remark, kLongestRemark);
    fields.list("trials", p.trials);
}

template <typename Fields>
void describe(Fields& fields, LabelledOnset& o)
{
    OnsetFeatures& f = o.features;
    fields("label", o.label, kOnsetNames);
    fields("rise_s", f.rise, kUpToAnHour);
    fields("rise_cycles", f.rise_cycles, NumberLimits{0.0, 1e5, ""});
    fields("air_lead_s", f.air_lead, kUpToAnHour);
    fields("air_level_db", f.air_level, kAnyDecibels);
    fields("overshoot_db", f.overshoot, kAnyDecibels);
    fields("irregular", f.irregular);
    fields("snr_db", f.snr, kAnyDecibels);
}

template <typename Fields>
void describe(Fields& fields, OnsetBaselineRecord& r)
{
    fields("labelled", r.labelled);
    fields.list("onsets", r.onsets);
}

template <typename Fields>
void describe(Fields& fields, Client& c)
{
    fields("id", c.id);
    fields("code", c.code, kLongestCode);
    fields("standing", c.standing, kStandingNames);
    fields("since", c.since);
    fields("keeps_audio", c.keeps_audio);
    fields.part("onset_baseline", c.onset_baseline);
}

// Its own rules are those of faults_of(MeasurableGoal).
template <typename Fields>
void describe(Fields& fields, ClientGoal& g)
{
    MeasurableGoal& goal = g.goal;
    std::optional<Note> note{goal.note};
    fields("id", g.id);
    fields("set_on", g.set_on);
    fields("withdrawn_on", g.withdrawn_on);
    fields("drill", goal.kind, kDrillKindNames);
    fields("note", note);
    goal.note = note.value_or(Note{0});
    fields("sound", goal.sound, kLongestSound);
    fields("band_cents", goal.band, NumberLimits{10.0, 300.0, "cents"});
    fields("hold_s", goal.hold, NumberLimits{1.0, 120.0, "s"});
    fields("onset", goal.onset, kOnsetAskedNames);
    fields("met", goal.met, NumberLimits{1.0, 20.0, ""});
    fields("trials", goal.trials, NumberLimits{1.0, 20.0, ""});
    fields("days", goal.days, NumberLimits{1.0, 30.0, ""});
    fields("cueing", goal.cueing, kCueingNames);
    fields("by", goal.by);
}

template <typename Fields>
void describe(Fields& fields, Clip& c)
{
    fields("trial", c.trial);
    fields("flac_base64", c.flac);
}

template <typename Fields>
void describe(Fields& fields, ClientFile& file)
{
    fields.part("client", file.client);
    fields.plans("plans", file.plans);
    fields.list("practices", file.practices);
    fields.later_list("goals", file.goals);
}

}  // namespace holdwell
