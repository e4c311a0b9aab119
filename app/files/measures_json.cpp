#include <cmath>
#include <nlohmann/json.hpp>

#include "app/files/measures.h"
#include "app/files/measures_rounding.h"

namespace holdwell {

namespace {

using Json = nlohmann::ordered_json;  // keys in the order in which they are described

// Null for what is no number.
Json number(double value, int decimals)
{
    if (!std::isfinite(value)) return nullptr;
    return rounded(value, decimals);
}

Json in_seconds(Seconds s) { return number(s.count(), kSecondsDecimals); }
Json in_seconds(SampleIndex at, SampleRate rate) { return in_seconds(time_of(at, rate)); }
Json in_ms(Seconds s) { return number(s.count() * 1000.0, kMsDecimals); }
Json in_hz(Hertz f) { return number(f.value, kHertzDecimals); }
Json in_cents(Cents c) { return number(c.value, kCentsDecimals); }
Json in_dbfs(Dbfs level) { return number(level.value, kDecibelsDecimals); }
Json in_db(Decibels step) { return number(step.value, kDecibelsDecimals); }
Json in_percent(double percent) { return number(percent, kPercentDecimals); }

template <typename Value, typename Write>
Json or_null(const std::optional<Value>& value, Write write)
{
    return value ? write(*value) : Json(nullptr);
}

Json quality_of(const Quality& q)
{
    return {{"jitter_percent", in_percent(q.jitter_percent)},
            {"shimmer_percent", in_percent(q.shimmer_percent)},
            {"hnr_db", in_db(q.hnr)},
            {"cpps_db", in_db(q.cpps)}};
}

Json interruptions_of(const Hold& hold, SampleRate rate)
{
    Json list = Json::array();
    for (const Interruption& i : hold.interruptions)
        list.push_back({{"at_s", in_seconds(i.at, rate)}, {"duration_ms", in_ms(i.duration)}});
    return list;
}

Json hold_of(const Hold& h, SampleRate rate)
{
    Json reason = h.start.reason.empty() ? Json(nullptr) : Json(h.start.reason);
    return {{"onset_s", in_seconds(h.onset, rate)},
            {"offset_s", in_seconds(h.offset, rate)},
            {"duration_s", in_seconds(duration_of(h.offset - h.onset, rate))},
            {"f0_median_hz", or_null(h.f0_median, in_hz)},
            {"f0_sd_cents", or_null(h.f0_sd, in_cents)},
            {"deviation_cents", or_null(h.deviation, in_cents)},
            {"in_band_s", or_null(h.in_band, [](Seconds s) { return in_seconds(s); })},
            {"level_dbfs", in_dbfs(h.level)},
            {"interruptions", interruptions_of(h, rate)},
            {"onset", name_of(h.start.named)},
            {"onset_rise_ms", or_null(h.start.rise, in_ms)},
            {"air_lead_ms", or_null(h.start.air_lead, in_ms)},
            {"onset_reason", std::move(reason)},
            {"fry_s", in_seconds(h.fry)},
            {"quality", or_null(h.quality, quality_of)},
            {"doubt", or_null(h.doubt, [](Doubt d) { return Json(name_of(d)); })},
            {"like_a_machine", h.like_a_machine}};
}

Json sibilant_of(const Sibilant& s, SampleRate rate)
{
    return {{"onset_s", in_seconds(s.onset, rate)},
            {"offset_s", in_seconds(s.offset, rate)},
            {"duration_s", in_seconds(duration_of(s.offset - s.onset, rate))},
            {"level_dbfs", in_dbfs(s.level)}};
}

Json break_of(const PitchBreak& b, SampleRate rate)
{
    Json written;
    written["at_s"] = in_seconds(b.at, rate);
    written["kind"] = name_of(b.kind);
    if (b.kind == BreakKind::jump)
        written["size_semitones"] =
            or_null(b.size, [](Semitones s) { return number(s.value, kSemitonesDecimals); });
    else
        written["gap_ms"] = or_null(b.gap, in_ms);
    return written;
}

Json range_of(const Glide& g)
{
    if (!g.lowest || !g.highest) return nullptr;
    return number(semitones_between(*g.lowest, *g.highest).value, kSemitonesDecimals);
}

Json processing_of(const Measured& m)
{
    Json list = Json::array();
    for (const MicrophoneProcessing kind : m.processing) list.push_back(name_of(kind));
    return list;
}

Json glide_of(const Glide& g, SampleRate rate)
{
    Json breaks = Json::array();
    for (const PitchBreak& b : g.breaks) breaks.push_back(break_of(b, rate));
    return {{"onset_s", in_seconds(g.onset, rate)},
            {"offset_s", in_seconds(g.offset, rate)},
            {"direction", name_of(g.direction)},
            {"lowest_hz", or_null(g.lowest, in_hz)},
            {"highest_hz", or_null(g.highest, in_hz)},
            {"range_semitones", range_of(g)},
            {"breaks", std::move(breaks)},
            {"fry_s", in_seconds(g.fry)}};
}

template <typename Item, typename Write>
Json list_of(const std::vector<Item>& items, SampleRate rate, Write write)
{
    Json list = Json::array();
    for (const Item& item : items) list.push_back(write(item, rate));
    return list;
}

void add_measured(Json& object, const Measured& m)
{
    object["sample_rate_hz"] = std::llround(m.sample_rate.hz);
    object["duration_s"] = in_seconds(duration_of(m.length, m.sample_rate));
    object["noise_floor_dbfs"] = or_null(m.noise_floor, in_dbfs);
    object["clipped_samples"] = m.clipped_samples;
    object["lost_samples"] = m.lost.value;
    object["holds"] = list_of(m.heard.holds, m.sample_rate, hold_of);
    object["s_holds"] = list_of(m.heard.s_holds, m.sample_rate, sibilant_of);
    object["z_holds"] = list_of(m.heard.z_holds, m.sample_rate, sibilant_of);
    object["glides"] = list_of(m.heard.glides, m.sample_rate, glide_of);
    object["processing"] = processing_of(m);
}

}  // namespace

std::string as_json(const FileMeasures& measures)
{
    Json object;
    object["file"] = measures.file;
    if (measures.measured) add_measured(object, *measures.measured);
    if (!measures.warnings.empty()) object["warnings"] = measures.warnings;
    if (measures.error) object["error"] = *measures.error;
    return object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace holdwell
