#include <fmt/format.h>

#include <cmath>
#include <map>
#include <string_view>

#include "app/files/measures.h"
#include "app/files/measures_rounding.h"

namespace holdwell {

namespace {

constexpr std::string_view kColumns[] = {"file",
                                         "kind",
                                         "onset_s",
                                         "offset_s",
                                         "duration_s",
                                         "f0_median_hz",
                                         "f0_sd_cents",
                                         "deviation_cents",
                                         "in_band_s",
                                         "level_dbfs",
                                         "interruptions",
                                         "onset",
                                         "onset_rise_ms",
                                         "air_lead_ms",
                                         "onset_reason",
                                         "fry_s",
                                         "jitter_percent",
                                         "shimmer_percent",
                                         "hnr_db",
                                         "cpps_db",
                                         "direction",
                                         "lowest_hz",
                                         "highest_hz",
                                         "range_semitones",
                                         "breaks",
                                         "sample_rate_hz",
                                         "file_duration_s",
                                         "noise_floor_dbfs",
                                         "clipped_samples",
                                         "lost_samples",
                                         "warning",
                                         "error",
                                         "doubt",
                                         "like_a_machine",
                                         "processing"};

// One row, by column; columns that are not named stay empty.
using Row = std::map<std::string_view, std::string>;

std::string fixed(double value, int digits)
{
    return std::isfinite(value) ? fmt::format("{:.{}f}", rounded(value, digits), digits)
                                : std::string{};
}

std::string in_seconds(Seconds s) { return fixed(s.count(), kSecondsDecimals); }
std::string in_ms(Seconds s) { return fixed(s.count() * 1000.0, kMsDecimals); }

template <typename Value>
std::string or_empty(const std::optional<Value>& value, int digits)
{
    return value ? fixed(value->value, digits) : std::string{};
}

std::string ms_or_empty(const std::optional<Seconds>& s) { return s ? in_ms(*s) : std::string{}; }

// RFC 4180, section 2: quoted when it holds a comma, a quote or a line's end.
std::string quoted(const std::string& field)
{
    if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
    std::string out = "\"";
    for (const char c : field) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

std::string line_of(const Row& row)
{
    std::string line;
    for (const std::string_view column : kColumns) {
        if (column != kColumns[0]) line += ',';
        const auto found = row.find(column);
        if (found != row.end()) line += quoted(found->second);
    }
    return line + '\n';
}

void add_span(Row& row, SampleIndex onset, SampleIndex offset, SampleRate rate)
{
    row["onset_s"] = in_seconds(time_of(onset, rate));
    row["offset_s"] = in_seconds(time_of(offset, rate));
    row["duration_s"] = in_seconds(duration_of(offset - onset, rate));
}

void add_quality(Row& row, const Quality& q)
{
    row["jitter_percent"] = fixed(q.jitter_percent, kPercentDecimals);
    row["shimmer_percent"] = fixed(q.shimmer_percent, kPercentDecimals);
    row["hnr_db"] = fixed(q.hnr.value, kDecibelsDecimals);
    row["cpps_db"] = fixed(q.cpps.value, kDecibelsDecimals);
}

Row with_hold(Row row, const Hold& h, SampleRate rate)
{
    row["kind"] = "hold";
    add_span(row, h.onset, h.offset, rate);
    row["f0_median_hz"] = or_empty(h.f0_median, kHertzDecimals);
    row["f0_sd_cents"] = or_empty(h.f0_sd, kCentsDecimals);
    row["deviation_cents"] = or_empty(h.deviation, kCentsDecimals);
    if (h.in_band) row["in_band_s"] = in_seconds(*h.in_band);
    row["level_dbfs"] = fixed(h.level.value, kDecibelsDecimals);
    row["interruptions"] = fmt::to_string(h.interruptions.size());
    row["onset"] = name_of(h.start.named);
    row["onset_rise_ms"] = ms_or_empty(h.start.rise);
    row["air_lead_ms"] = ms_or_empty(h.start.air_lead);
    row["onset_reason"] = h.start.reason;
    row["fry_s"] = in_seconds(h.fry);
    if (h.quality) add_quality(row, *h.quality);
    if (h.doubt) row["doubt"] = name_of(*h.doubt);
    row["like_a_machine"] = h.like_a_machine ? "true" : "false";
    return row;
}

Row with_sibilant(Row row, const Sibilant& s, SampleRate rate)
{
    add_span(row, s.onset, s.offset, rate);
    row["level_dbfs"] = fixed(s.level.value, kDecibelsDecimals);
    return row;
}

Row with_glide(Row row, const Glide& g, SampleRate rate)
{
    row["kind"] = "glide";
    add_span(row, g.onset, g.offset, rate);
    row["direction"] = name_of(g.direction);
    row["lowest_hz"] = or_empty(g.lowest, kHertzDecimals);
    row["highest_hz"] = or_empty(g.highest, kHertzDecimals);
    if (g.lowest && g.highest)
        row["range_semitones"] =
            fixed(semitones_between(*g.lowest, *g.highest).value, kSemitonesDecimals);
    row["breaks"] = fmt::to_string(g.breaks.size());
    row["fry_s"] = in_seconds(g.fry);
    return row;
}

Row row_of_file(const FileMeasures& measures)
{
    Row row{{"file", measures.file}, {"error", measures.error.value_or("")}};
    for (const std::string& warning : measures.warnings)
        row["warning"] += (row["warning"].empty() ? "" : " ") + warning;
    if (!measures.measured) return row;
    const Measured& m = *measures.measured;
    row["sample_rate_hz"] = fixed(m.sample_rate.hz, 0);
    row["file_duration_s"] = in_seconds(duration_of(m.length, m.sample_rate));
    row["noise_floor_dbfs"] = or_empty(m.noise_floor, kDecibelsDecimals);
    row["clipped_samples"] = fmt::to_string(m.clipped_samples);
    row["lost_samples"] = fmt::to_string(m.lost.value);
    std::string& processing = row["processing"];
    for (const MicrophoneProcessing kind : m.processing) {
        if (!processing.empty()) processing += ' ';
        processing += name_of(kind);
    }
    return row;
}

}  // namespace

std::string csv_heading()
{
    std::string line;
    for (const std::string_view column : kColumns) {
        if (!line.empty()) line += ',';
        line += column;
    }
    return line + '\n';
}

std::string as_csv(const FileMeasures& measures)
{
    Row row = row_of_file(measures);
    std::string rows;
    if (measures.measured) {
        const Heard& heard = measures.measured->heard;
        const SampleRate rate = measures.measured->sample_rate;
        for (const Hold& h : heard.holds) rows += line_of(with_hold(row, h, rate));
        row["kind"] = "s_hold";
        for (const Sibilant& s : heard.s_holds) rows += line_of(with_sibilant(row, s, rate));
        row["kind"] = "z_hold";
        for (const Sibilant& s : heard.z_holds) rows += line_of(with_sibilant(row, s, rate));
        for (const Glide& g : heard.glides) rows += line_of(with_glide(row, g, rate));
    }
    if (!rows.empty()) return rows;
    row["kind"] = measures.error ? "error" : "none";
    return line_of(row);
}

std::string frames_heading() { return "time_s,f0_hz,confidence,level_dbfs,phonation\n"; }

std::string as_frames_row(const FrameReading& r, SampleRate rate)
{
    return fmt::format("{},{},{},{},{}\n", fixed(time_of(r.centre, rate).count(), 6),
                       or_empty(r.f0, 5), fixed(r.confidence, 4), fixed(r.level.value, 2),
                       name_of(r.phonation));
}

}  // namespace holdwell
