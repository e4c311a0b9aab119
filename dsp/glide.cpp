#include "dsp/glide.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "dsp/pitch_break.h"
#include "dsp/pitch_line.h"

namespace holdwell {

namespace {

// A hold may wander so far, and a glide must move farther.
constexpr double kHoldBandSemitones = 3.0;
// Share of a phonation inside such a band that makes it a hold, whatever its ends do.
constexpr double kHoldShare = 0.75;
// A movement back by more than this is a change of direction: more than the whole of a vibrato of
// +/-50 cents, less than what a person calls going down.
constexpr double kReversalSemitones = 1.5;
// One period of a slow vibrato: an average over it shows none.
constexpr double kVibratoSpanSeconds = 0.18;
constexpr double kMonotonySpanSeconds = 0.10;
// Shorter than this is a scoop or a portamento between two notes.
constexpr double kShortestMovementSeconds = 0.3;
// Share of its time that a glide may stand still, and what standing still is: steps on notes of
// half a second stand for more than half of theirs, an even glide never.
constexpr double kStalledShare = 0.4;
constexpr double kStalledSpeed = 0.25;  // of the movement's mean speed
constexpr double kSustainedSeconds = 0.1;
constexpr double kLeastReachSemitones = 1.5;
constexpr double kMostReachSemitones = 4.0;
constexpr double kCalmSeconds = 0.03;  // three points: one of them alone is never the range
// The first and the last window that read as voiced have their middle so far inside the voice.
constexpr double kEdgeSeconds = 0.028;
constexpr double kMostEdgeSemitones = 0.8;

// A movement in one direction, between two turning points of a line.
struct Leg {
    std::size_t first{};
    std::size_t last{};
    double travel_st{};  // upwards positive
};

// The turning points of a line, where it comes back by more than kReversalSemitones.
std::vector<Leg> legs_of(const PitchLine& line)
{
    std::vector<Leg> legs;
    std::size_t start = 0;
    std::size_t lowest = 0;
    std::size_t highest = 0;
    const auto close_at = [&](std::size_t end) {
        legs.push_back({start, end, line[end].st - line[start].st});
        start = lowest = highest = end;
    };
    for (std::size_t i = 1; i < line.size(); ++i) {
        const bool turned_down = highest > start && highest > lowest &&
                                 line[highest].st - line[i].st > kReversalSemitones;
        const bool turned_up =
            lowest > start && lowest > highest && line[i].st - line[lowest].st > kReversalSemitones;
        if (turned_down) close_at(highest);
        if (turned_up) close_at(lowest);
        if (line[i].st < line[lowest].st) lowest = i;
        if (line[i].st > line[highest].st) highest = i;
    }
    if (start + 1 < line.size()) {
        legs.push_back({start, line.size() - 1, line.back().st - line[start].st});
    }
    return legs;
}

// The greatest share of the line inside any band of kHoldBandSemitones.
double share_in_one_band(const PitchLine& line)
{
    if (line.empty()) return 1.0;
    std::vector<double> st;
    for (const LinePoint& p : line) st.push_back(p.st);
    std::sort(st.begin(), st.end());
    std::size_t most = 0;
    for (std::size_t low = 0, high = 0; high < st.size(); ++high) {
        while (st[high] - st[low] > kHoldBandSemitones) ++low;
        most = std::max(most, high - low + 1);
    }
    return static_cast<double>(most) / static_cast<double>(st.size());
}

// Without the notes held at either end: from the last point within 5 % of the start to the first
// within 5 % of the end.
Leg trimmed(const PitchLine& line, Leg leg)
{
    const double margin = 0.05 * std::abs(leg.travel_st);
    const double from = line[leg.first].st;
    const double to = line[leg.last].st;
    for (std::size_t i = leg.first; i <= leg.last; ++i) {
        if (std::abs(line[i].st - from) <= margin) leg.first = i;
    }
    for (std::size_t i = leg.last; i > leg.first; --i) {
        if (std::abs(line[i].st - to) <= margin) leg.last = i;
    }
    return leg;
}

// Share of the leg's points about which the line stands nearly still.
double stalled_share(const PitchLine& line, const Leg& leg)
{
    const double duration_s = line[leg.last].at_s - line[leg.first].at_s;
    const double slow = kStalledSpeed * std::abs(leg.travel_st) / duration_s;
    std::size_t stalled = 0;
    std::size_t counted = 0;
    for (std::size_t i = leg.first; i <= leg.last; ++i) {
        const double speed = slope_at(line, i, 0.5 * kMonotonySpanSeconds);
        stalled += speed * std::copysign(1.0, leg.travel_st) < slow;
        ++counted;
    }
    return static_cast<double>(stalled) / static_cast<double>(counted);
}

bool is_gliding(const PitchLine& line, const Leg& whole)
{
    if (std::abs(whole.travel_st) <= kHoldBandSemitones) return false;
    const Leg leg = trimmed(line, whole);
    if (line[leg.last].at_s - line[leg.first].at_s < kShortestMovementSeconds) return false;
    return stalled_share(line, leg) < kStalledShare;
}

// The direction of a line that goes one way; of one that comes back, that of its first movement.
GlideDirection direction_of(const PitchLine& line, std::span<const Leg> legs)
{
    const auto [low, high] =
        std::minmax_element(line.begin(), line.end(),
                            [](const LinePoint& a, const LinePoint& b) { return a.st < b.st; });
    double deciding = line.back().st - line.front().st;
    if (std::abs(deciding) < 0.6 * (high->st - low->st)) {
        const auto first = std::find_if(legs.begin(), legs.end(), [](const Leg& leg) {
            return std::abs(leg.travel_st) > kHoldBandSemitones;
        });
        if (first != legs.end()) deciding = first->travel_st;
    }
    return deciding >= 0.0 ? GlideDirection::up : GlideDirection::down;
}

// Share of points at which the line moves as its leg does.
double smoothness_of(const PitchLine& line, std::span<const Leg> legs)
{
    std::size_t moving = 0;
    std::size_t counted = 0;
    for (const Leg& leg : legs) {
        for (std::size_t i = leg.first; i < leg.last; ++i) {
            moving += slope_at(line, i, 0.5 * kMonotonySpanSeconds) * leg.travel_st > 0.0;
            ++counted;
        }
    }
    return counted == 0 ? 0.0 : static_cast<double>(moving) / static_cast<double>(counted);
}

// Whether the line stays within `reach_st` below its point i (and not above) for kSustainedSeconds.
bool is_sustained(const PitchLine& piece, std::size_t i, double reach_st)
{
    const auto near = [&](std::size_t k) {
        return piece[k].st <= piece[i].st && piece[k].st >= piece[i].st - reach_st;
    };
    std::size_t first = i;
    std::size_t last = i;
    while (first > 0 && near(first - 1)) --first;
    while (last + 1 < piece.size() && near(last + 1)) ++last;
    return piece[last].at_s - piece[first].at_s >= kSustainedSeconds - 0.011;
}

// What the line may fall within kSustainedSeconds beside a note that counts: a quick glide moves
// on, and a squeak, which comes back at once, does not.
double reach_at(const PitchLine& piece, std::size_t i)
{
    const double speed = std::abs(slope_at(piece, i, kSustainedSeconds));
    return std::clamp(1.2 * kSustainedSeconds * speed, kLeastReachSemitones, kMostReachSemitones);
}

std::optional<double> highest_sustained(const PitchLine& piece)
{
    std::optional<double> best;
    for (std::size_t i = 0; i < piece.size(); ++i) {
        if (best && piece[i].st <= *best) continue;
        if (is_sustained(piece, i, reach_at(piece, i))) best = piece[i].st;
    }
    return best;
}

PitchLine upside_down(PitchLine line)
{
    for (LinePoint& p : line) p.st = -p.st;
    return line;
}

// How much farther the line goes beyond its outermost point, at `edge_s` outside it.
double movement_beyond(std::span<const LinePoint> points, double edge_s, double outermost_st)
{
    if (points.size() < 5) return 0.0;
    return std::clamp(prolonged_to(points, edge_s) - outermost_st, -kMostEdgeSemitones,
                      kMostEdgeSemitones);
}

// With a point added at either end of the voice.
void prolong_ends(std::vector<PitchLine>& pieces)
{
    PitchLine& first = pieces.front();
    const LinePoint begin = first.front();
    const LinePoint before{begin.at_s - kEdgeSeconds, begin.st};
    const auto early = between(first, begin.at_s, begin.at_s + kSustainedSeconds);
    const double rise = movement_beyond(early, before.at_s, begin.st);
    first.insert(first.begin(), {before.at_s, before.st + rise});
    PitchLine& last = pieces.back();
    const LinePoint end = last.back();
    const auto late = between(last, end.at_s - kSustainedSeconds, end.at_s + kEdgeSeconds);
    const double fall = movement_beyond(late, end.at_s + kEdgeSeconds, end.st);
    last.push_back({end.at_s + kEdgeSeconds, end.st + fall});
}

void set_range(Glide& glide, std::vector<PitchLine> pieces)
{
    if (pieces.empty()) return;
    for (PitchLine& piece : pieces) piece = smoothed(median_of_three(piece), kCalmSeconds);
    prolong_ends(pieces);
    std::optional<double> low;
    std::optional<double> high;
    for (const PitchLine& piece : pieces) {
        const auto top = highest_sustained(piece);
        const auto bottom = highest_sustained(upside_down(piece));
        if (top && (!high || *top > *high)) high = top;
        if (bottom && (!low || -*bottom < *low)) low = -*bottom;
    }
    if (low) glide.lowest = hertz_of_line(*low);
    if (high) glide.highest = hertz_of_line(*high);
}

Seconds fry_in(std::span<const ContourPoint> contour, SampleRate rate)
{
    if (contour.size() < 2) return {};
    const Seconds hop = duration_of(contour[1].at - contour[0].at, rate);
    const auto points = std::count_if(contour.begin(), contour.end(), [](const ContourPoint& p) {
        return p.phonation == Phonation::fry;
    });
    return hop * static_cast<double>(points);
}

}  // namespace

bool travels(std::span<const ContourPoint> contour, SampleRate rate)
{
    if (share_in_one_band(voiced_line(contour, rate)) >= kHoldShare) return false;
    const BrokenLine broken = break_line(contour, rate);
    const PitchLine line = smoothed(mended(broken.pieces), kVibratoSpanSeconds);
    if (line.size() < 2 || share_in_one_band(line) >= kHoldShare) return false;
    const std::vector<Leg> legs = legs_of(line);
    return std::any_of(legs.begin(), legs.end(),
                       [&](const Leg& leg) { return is_gliding(line, leg); });
}

Glide measure_glide(std::span<const ContourPoint> contour, SampleRate rate)
{
    Glide glide;
    if (contour.empty()) return glide;
    glide.onset = contour.front().at;
    glide.offset = contour.back().at;
    glide.fry = fry_in(contour, rate);
    BrokenLine broken = break_line(contour, rate);
    glide.breaks = std::move(broken.breaks);
    set_range(glide, broken.pieces);
    const PitchLine line = smoothed(mended(broken.pieces), kMonotonySpanSeconds);
    if (line.size() < 2) return glide;
    const std::vector<Leg> legs = legs_of(line);
    glide.direction = direction_of(line, legs);
    glide.smoothness = smoothness_of(line, legs);
    return glide;
}

}  // namespace holdwell
