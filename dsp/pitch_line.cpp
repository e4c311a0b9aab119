#include "dsp/pitch_line.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

// What is so much softer than the phonation's median is the mains or the room's tail.
constexpr Decibels kTooFaint{40.0};

// Slips of the estimator: a few points far from the median of their neighbours.
constexpr double kSlipSemitones = 2.5;
constexpr double kSlipReachSeconds = 0.055;

constexpr double kHopSeconds = 0.010;  // between two points

// Median of the slopes between all pairs (Theil and Sen), in semitones per second: one bad point
// in five does not turn it.
double robust_slope(std::span<const LinePoint> points)
{
    std::vector<double> slopes;
    for (std::size_t i = 0; i < points.size(); ++i) {
        for (std::size_t k = i + 1; k < points.size(); ++k) {
            slopes.push_back((points[k].st - points[i].st) / (points[k].at_s - points[i].at_s));
        }
    }
    return median_of(std::move(slopes));
}

}  // namespace

double median_of(std::vector<double> x)
{
    const auto middle = x.begin() + static_cast<std::ptrdiff_t>(x.size() / 2);
    std::nth_element(x.begin(), middle, x.end());
    return *middle;
}

PitchLine voiced_line(std::span<const ContourPoint> contour, SampleRate rate)
{
    std::vector<double> level_dbfs;
    for (const ContourPoint& p : contour) {
        if (p.f0) level_dbfs.push_back(p.level.value);
    }
    if (level_dbfs.empty()) return {};
    const Dbfs faintest = Dbfs{median_of(std::move(level_dbfs))} - kTooFaint;
    PitchLine line;
    for (const ContourPoint& p : contour) {
        if (!p.f0 || p.level < faintest) continue;
        line.push_back({time_of(p.at, rate).count(), semitones_between(Hertz{1.0}, *p.f0).value});
    }
    return line;
}

std::span<const LinePoint> between(const PitchLine& line, double from_s, double to_s)
{
    const auto before = [](const LinePoint& p, double t) { return p.at_s < t; };
    const auto first = std::lower_bound(line.begin(), line.end(), from_s, before);
    const auto last = std::lower_bound(first, line.end(), to_s, before);
    return {first, last};
}

double median_st(std::span<const LinePoint> points)
{
    std::vector<double> st;
    for (const LinePoint& p : points) st.push_back(p.st);
    return median_of(std::move(st));
}

double prolonged_to(std::span<const LinePoint> points, double t)
{
    const double slope = robust_slope(points);
    std::vector<double> at_t;
    for (const LinePoint& p : points) at_t.push_back(p.st + slope * (t - p.at_s));
    return median_of(std::move(at_t));
}

PitchLine without_slips(const PitchLine& line)
{
    PitchLine kept;
    for (const LinePoint& p : line) {
        const auto around = between(line, p.at_s - kSlipReachSeconds, p.at_s + kSlipReachSeconds);
        if (std::abs(p.st - median_st(around)) <= kSlipSemitones) kept.push_back(p);
    }
    return kept;
}

PitchLine mended(std::span<const PitchLine> pieces)
{
    PitchLine line;
    for (const PitchLine& piece : pieces) {
        LinePoint shift{};
        if (!line.empty()) {
            shift = {line.back().at_s + kHopSeconds - piece.front().at_s,
                     line.back().st - piece.front().st};
        }
        for (const LinePoint& p : piece) line.push_back({p.at_s + shift.at_s, p.st + shift.st});
    }
    return line;
}

PitchLine smoothed(const PitchLine& line, double span_s)
{
    PitchLine calm = line;
    for (LinePoint& p : calm) {
        const double reach =
            std::min({0.5 * span_s, p.at_s - line.front().at_s, line.back().at_s - p.at_s}) + 1e-9;
        double sum = 0.0;
        const auto around = between(line, p.at_s - reach, p.at_s + reach);
        for (const LinePoint& q : around) sum += q.st;
        if (!around.empty()) p.st = sum / static_cast<double>(around.size());
    }
    return calm;
}

PitchLine median_of_three(const PitchLine& line)
{
    PitchLine calm = line;
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
        const auto [low, high] = std::minmax(line[i - 1].st, line[i + 1].st);
        calm[i].st = std::clamp(line[i].st, low, high);
    }
    return calm;
}

double slope_at(const PitchLine& line, std::size_t i, double half_span_s)
{
    std::size_t first = i;
    std::size_t last = i;
    while (first > 0 && line[i].at_s - line[first - 1].at_s <= half_span_s + 1e-9) --first;
    while (last + 1 < line.size() && line[last + 1].at_s - line[i].at_s <= half_span_s + 1e-9) {
        ++last;
    }
    if (first == last) return 0.0;
    return (line[last].st - line[first].st) / (line[last].at_s - line[first].at_s);
}

Hertz hertz_of_line(double st) { return transposed(Hertz{1.0}, Cents{100.0 * st}); }

}  // namespace holdwell
