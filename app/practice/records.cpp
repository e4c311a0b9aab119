#include "app/practice/records.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace holdwell {
namespace {

Seconds all_of(const std::vector<Interruption>& interruptions)
{
    Seconds sum{};
    for (const Interruption& interruption : interruptions) sum += interruption.duration;
    return sum;
}

// ---- the same by value: every member, in its order ---------------------------------------------

bool same(const Quality& a, const Quality& b);
bool same(const LabelledOnset& a, const LabelledOnset& b);
bool same(const OnsetBaselineRecord& a, const OnsetBaselineRecord& b);

template <typename Item>
bool same_optional(const std::optional<Item>& a, const std::optional<Item>& b)
{
    if (!a || !b) return a.has_value() == b.has_value();
    return same(*a, *b);
}

template <typename Item>
bool same_list(const std::vector<Item>& a, const std::vector<Item>& b)
{
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Item& x, const Item& y) { return same(x, y); });
}

bool same(const Quality& a, const Quality& b)
{
    const auto members = [](const Quality& q) {
        return std::tie(q.jitter_percent, q.shimmer_percent, q.hnr, q.cpps);
    };
    return members(a) == members(b);
}

bool same(const HoldMeasures& a, const HoldMeasures& b)
{
    const auto members = [](const HoldMeasures& m) {
        return std::tie(m.hold_time, m.in_band, m.f0_median, m.deviation, m.f0_sd, m.octaves_off,
                        m.interruptions, m.interrupted, m.onset, m.rise, m.air_lead, m.ended_by,
                        m.fry, m.snr, m.loudness, m.has_gap, m.doubt);
    };
    return members(a) == members(b) && same_optional(a.quality, b.quality);
}

bool same(const GlideMeasures& a, const GlideMeasures& b)
{
    const auto members = [](const GlideMeasures& m) {
        return std::tie(m.direction, m.length, m.lowest, m.highest, m.jumps, m.gaps, m.largest_jump,
                        m.fry, m.smoothness, m.has_gap);
    };
    return members(a) == members(b);
}

bool same(const SibilantMeasures& a, const SibilantMeasures& b)
{
    const auto members = [](const SibilantMeasures& m) {
        return std::tie(m.length, m.fading_suspected, m.has_gap);
    };
    return members(a) == members(b);
}

bool same(const Measures& a, const Measures& b)
{
    if (a.index() != b.index()) return false;
    return std::visit(
        [&b](const auto& one) {
            using Kind = std::decay_t<decltype(one)>;
            return same(one, std::get<Kind>(b));
        },
        a);
}

bool same(const LabelledOnset& a, const LabelledOnset& b)
{
    const auto members = [](const LabelledOnset& o) {
        const OnsetFeatures& f = o.features;
        return std::tie(f.rise, f.rise_cycles, f.air_lead, f.air_level, f.overshoot, f.irregular,
                        f.snr, o.label);
    };
    return members(a) == members(b);
}

bool same(const OnsetBaselineRecord& a, const OnsetBaselineRecord& b)
{
    return a.labelled == b.labelled && same_list(a.onsets, b.onsets);
}

}  // namespace

std::optional<Semitones> GlideMeasures::range() const
{
    if (!lowest || !highest) return std::nullopt;
    return semitones_between(*lowest, *highest);
}

Measures measures_of(const Hold& hold, SampleRate rate)
{
    HoldMeasures m;
    m.hold_time = duration_of(hold.offset - hold.onset, rate);
    m.in_band = hold.in_band;
    m.f0_median = hold.f0_median;
    m.deviation = hold.deviation;
    m.f0_sd = hold.f0_sd;
    m.octaves_off = hold.octaves_off;
    m.interruptions = static_cast<int>(hold.interruptions.size());
    m.interrupted = all_of(hold.interruptions);
    m.onset = hold.start.named;
    m.rise = hold.start.rise;
    m.air_lead = hold.start.air_lead;
    m.ended_by = hold.ended_by;
    m.fry = hold.fry;
    m.snr = hold.snr;
    m.quality = hold.quality;
    m.has_gap = hold.has_gap;
    m.doubt = hold.doubt;
    return m;
}

Measures measures_of(const Glide& glide, SampleRate rate)
{
    GlideMeasures m{.direction = glide.direction,
                    .length = duration_of(glide.offset - glide.onset, rate),
                    .lowest = glide.lowest,
                    .highest = glide.highest,
                    .largest_jump = {},
                    .fry = glide.fry,
                    .smoothness = glide.smoothness,
                    .has_gap = glide.has_gap};
    for (const PitchBreak& found : glide.breaks) {
        if (found.kind == BreakKind::gap) ++m.gaps;
        if (found.kind != BreakKind::jump) continue;
        ++m.jumps;
        if (!found.size) continue;
        const Semitones size{std::abs(found.size->value)};
        m.largest_jump = std::max(m.largest_jump.value_or(size), size);
    }
    return m;
}

Measures measures_of(const Sibilant& sibilant, SampleRate rate)
{
    return SibilantMeasures{.length = duration_of(sibilant.offset - sibilant.onset, rate),
                            .fading_suspected = sibilant.fading_suspected,
                            .has_gap = sibilant.has_gap};
}

bool same(const Client& a, const Client& b)
{
    const auto members = [](const Client& c) {
        return std::tie(c.id, c.code, c.standing, c.since, c.keeps_audio);
    };
    return members(a) == members(b) && same_optional(a.onset_baseline, b.onset_baseline);
}

bool same(const Trial& a, const Trial& b)
{
    const auto members = [](const Trial& t) {
        return std::tie(t.id, t.number, t.kind, t.target, t.repetition, t.goal, t.band, t.begun);
    };
    return members(a) == members(b) && same(a.measures, b.measures);
}

bool same(const Practice& a, const Practice& b)
{
    const auto members = [](const Practice& p) {
        return std::tie(p.id, p.client, p.plan, p.plan_revision, p.taper_step, p.kind, p.begun,
                        p.completion, p.trials_asked, p.before, p.rating, p.sound_check, p.remark);
    };
    return members(a) == members(b) && same_list(a.trials, b.trials);
}

}  // namespace holdwell
