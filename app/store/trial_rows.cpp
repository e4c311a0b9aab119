#include "app/store/trial_rows.h"

namespace holdwell {
namespace {

// Columns that only one kind of measures fills.
constexpr int kHoldColumns = 18;
constexpr int kGlideColumns = 7;
constexpr int kSibilantColumns = 1;

enum class Measured { hold, glide, sibilant };

}  // namespace

template <>
inline constexpr std::array kNames<Measured> = std::to_array<std::string_view>({"hold", "glide",
                                                                                "sibilant"});

namespace {

void put_quality(Query& query, const std::optional<Quality>& quality)
{
    if (quality)
        query.with(quality->jitter_percent, quality->shimmer_percent, quality->hnr, quality->cpps);
    else
        query.with_nulls(4);
}

std::optional<Quality> take_quality(Query& query)
{
    const auto jitter = query.take<std::optional<double>>();
    if (!jitter) {
        query.skip(3);
        return std::nullopt;
    }
    Quality quality;
    quality.jitter_percent = *jitter;
    quality.shimmer_percent = query.take<double>();
    quality.hnr = query.take<Decibels>();
    quality.cpps = query.take<Decibels>();
    return quality;
}

// ---- one kind each: its block, between the NULLs of the others ------------------------------

void put_measures(Query& query, const HoldMeasures& hold)
{
    query.with(Measured::hold, hold.hold_time, hold.has_gap, hold.fry);
    query.with(hold.in_band, hold.f0_median, hold.deviation, hold.f0_sd, hold.octaves_off);
    query.with(hold.interruptions, hold.interrupted, hold.onset, hold.rise, hold.air_lead);
    query.with(hold.ended_by, hold.snr, hold.loudness, hold.doubt);
    put_quality(query, hold.quality);
    query.with_nulls(kGlideColumns + kSibilantColumns);
}

void put_measures(Query& query, const GlideMeasures& glide)
{
    query.with(Measured::glide, glide.length, glide.has_gap, glide.fry);
    query.with_nulls(kHoldColumns);
    query.with(glide.direction, glide.lowest, glide.highest, glide.jumps, glide.gaps);
    query.with(glide.largest_jump, glide.smoothness);
    query.with_nulls(kSibilantColumns);
}

void put_measures(Query& query, const SibilantMeasures& sibilant)
{
    query.with(Measured::sibilant, sibilant.length, sibilant.has_gap);
    query.with_nulls(1 + kHoldColumns + kGlideColumns);  // no fry either
    query.with(sibilant.fading_suspected);
}

HoldMeasures take_hold(Query& query)
{
    HoldMeasures hold;
    hold.hold_time = query.take<Seconds>();
    hold.has_gap = query.take<bool>();
    hold.fry = query.take<Seconds>();
    hold.in_band = query.take<std::optional<Seconds>>();
    hold.f0_median = query.take<std::optional<Hertz>>();
    hold.deviation = query.take<std::optional<Cents>>();
    hold.f0_sd = query.take<std::optional<Cents>>();
    hold.octaves_off = query.take<int>();
    hold.interruptions = query.take<int>();
    hold.interrupted = query.take<Seconds>();
    hold.onset = query.take<OnsetClass>();
    hold.rise = query.take<std::optional<Seconds>>();
    hold.air_lead = query.take<std::optional<Seconds>>();
    hold.ended_by = query.take<HoldEnd>();
    hold.snr = query.take<Decibels>();
    hold.loudness = query.take<std::optional<Decibels>>();
    hold.doubt = query.take<std::optional<Doubt>>();
    hold.quality = take_quality(query);
    return hold;
}

GlideMeasures take_glide(Query& query)
{
    GlideMeasures glide;
    glide.length = query.take<Seconds>();
    glide.has_gap = query.take<bool>();
    glide.fry = query.take<Seconds>();
    query.skip(kHoldColumns);
    glide.direction = query.take<GlideDirection>();
    glide.lowest = query.take<std::optional<Hertz>>();
    glide.highest = query.take<std::optional<Hertz>>();
    glide.jumps = query.take<int>();
    glide.gaps = query.take<int>();
    glide.largest_jump = query.take<std::optional<Semitones>>();
    glide.smoothness = query.take<double>();
    return glide;
}

SibilantMeasures take_sibilant(Query& query)
{
    SibilantMeasures sibilant;
    sibilant.length = query.take<Seconds>();
    sibilant.has_gap = query.take<bool>();
    query.skip(1 + kHoldColumns + kGlideColumns);
    sibilant.fading_suspected = query.take<bool>();
    return sibilant;
}

Measures take_measures(Query& query)
{
    switch (query.take<Measured>()) {
    case Measured::glide:
        return take_glide(query);
    case Measured::sibilant:
        return take_sibilant(query);
    case Measured::hold:
        break;
    }
    return take_hold(query);
}

}  // namespace

void put_trial(Query& query, const Trial& trial)
{
    query.with(trial.number, trial.id, trial.kind, trial.target, trial.repetition, trial.goal,
               trial.band, trial.begun);
    std::visit([&](const auto& measures) { put_measures(query, measures); }, trial.measures);
}

Trial take_trial(Query& query)
{
    Trial trial;
    trial.number = query.take<int>();
    trial.id = query.take<Id>();
    trial.kind = query.take<DrillKind>();
    trial.target = query.take<std::optional<Note>>();
    trial.repetition = query.take<int>();
    trial.goal = query.take<std::optional<Seconds>>();
    trial.band = query.take<Cents>();
    trial.begun = query.take<Seconds>();
    trial.measures = take_measures(query);
    return trial;
}

}  // namespace holdwell
