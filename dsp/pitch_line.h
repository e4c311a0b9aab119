#pragma once
// The line that a voice draws: f0 in semitones over time, and what is read off it.
//
// In:    the contour of one phonation (dsp/contour.h).
// Out:   its voiced points, in order of time. Pure functions, no state.

#include <span>
#include <vector>

#include "dsp/contour.h"

namespace holdwell {

// A voiced point.
struct LinePoint {
    double at_s{};  // from the start of the stream
    double st{};    // semitones above 1 Hz
};
using PitchLine = std::vector<LinePoint>;

// Without points 40 dB softer than their median: those are not the voice.
PitchLine voiced_line(std::span<const ContourPoint> contour, SampleRate rate);

// Without the estimator's slips: few points far from the median of their neighbours.
PitchLine without_slips(const PitchLine& line);

// All pieces as one line, each moved in pitch and time to begin where the one before it ends: the
// movement without its breaks.
PitchLine mended(std::span<const PitchLine> pieces);

// Running average over span_s; near the ends over what there is on both sides alike.
PitchLine smoothed(const PitchLine& line, double span_s);

PitchLine median_of_three(const PitchLine& line);

// Semitones per second between the points about half_span_s before and after point i.
double slope_at(const PitchLine& line, std::size_t i, double half_span_s);

// The points with from_s <= at_s < to_s.
std::span<const LinePoint> between(const PitchLine& line, double from_s, double to_s);

// Of at least one point.
double median_st(std::span<const LinePoint> points);

// The straight line through at least two points, prolonged to t: slope by the median of the slopes
// between all pairs (P. K. Sen, J. Am. Stat. Assoc. 63, 1379-1389, 1968), which one bad point in
// five does not turn.
double prolonged_to(std::span<const LinePoint> points, double t_s);

Hertz hertz_of_line(double st);

// Of at least one value; the upper of two middle ones.
double median_of(std::vector<double> x);

}  // namespace holdwell
