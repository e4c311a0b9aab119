#include "dsp/pitch_break.h"

#include <algorithm>
#include <cmath>

#include "dsp/octave_repair.h"

namespace holdwell {

namespace {

// Jumps.
constexpr double kJumpSemitones = 2.75;      // of 3; what the fitted lines may lose of it
constexpr double kPlainJumpSemitones = 2.0;  // seen without the lines too: a wide vibrato is not
// What the fastest smooth glide, three octaves a second, moves between the two medians that are
// plainly seen. Lines that differ by more were fitted to a hook at the edge of the voice.
constexpr double kMostSlopeSemitones = 2.5;
constexpr double kBlurredSeconds = 0.020;  // half a window: both pitches sound in it
constexpr double kLineReachSeconds = 0.075;
constexpr double kNearReachSeconds = 0.045;
constexpr double kGridSeconds = 0.005;
constexpr double kLongestHiddenSeconds = 0.12;
// A jump back within this belongs to the first: one crack of the voice.
constexpr double kOneCrackSeconds = 0.150;

// Gaps.
constexpr double kShortestGapSeconds = 0.035;  // of 40 ms, seen through 10 ms hops
constexpr double kLongestGapSeconds = 0.420;   // of 400 ms
constexpr double kDropoutSeconds = 0.045;      // shorter holes in the track are not the voice's
constexpr double kGapDepthDb = 12.0;
constexpr double kSharpDb = 8.0;  // within three hops
// The voice beside a gap is the louder part of so much time: more than half may be gap.
constexpr double kGapContextSeconds = 0.65;
constexpr double kLoudShare = 0.8;

// A hole in the track with the sound going on: the voice's own part of it must be missing.
constexpr double kHoleDepthDb = 4.0;
constexpr double kHoleContextSeconds = 0.1;

constexpr double kShortestPieceSeconds = 0.06;

// A contour and the rate that its sample indices count in.
struct TimedContour {
    std::span<const ContourPoint> contour;
    SampleRate rate;
};

SampleIndex index_of(double at_s, SampleRate rate)
{
    return {samples_in(Seconds{at_s}, rate).value};
}

struct TimeSpan {
    double from{};
    double to{};
    double length() const { return to - from; }
};

// Holes in the line, between voiced points.
std::vector<TimeSpan> holes_in(const PitchLine& line)
{
    std::vector<TimeSpan> holes;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const TimeSpan hole{line[i - 1].at_s + kGridSeconds, line[i].at_s - kGridSeconds};
        if (hole.length() > kDropoutSeconds) holes.push_back(hole);
    }
    return holes;
}

struct Jump {
    double at_s{};
    double st{};  // upwards positive
};

// How far a line leaps: as the prolonged lines say it where what is plainly seen bears them out.
std::optional<double> size_of_jump(double prolonged, double plain)
{
    const bool agree = std::abs(prolonged - plain) <= kMostSlopeSemitones;
    const double size = agree ? prolonged : plain;
    if (std::abs(size) < kJumpSemitones || std::abs(plain) < kPlainJumpSemitones)
        return std::nullopt;
    if (prolonged * plain < 0.0) return std::nullopt;
    return size;
}

// The jump at t as two prolonged lines see it; nothing where there is none to speak of.
std::optional<Jump> jump_at(const PitchLine& line, double t)
{
    const auto before = between(line, t - kLineReachSeconds, t - kBlurredSeconds);
    const auto after = between(line, t + kBlurredSeconds, t + kLineReachSeconds);
    if (before.size() < 3 || after.size() < 3) return std::nullopt;
    const auto near_before = between(line, t - kNearReachSeconds, t - 0.012);
    const auto near_after = between(line, t + 0.012, t + kNearReachSeconds);
    if (near_before.empty() || near_after.empty()) return std::nullopt;
    const double plain = median_st(near_after) - median_st(near_before);
    const double step = prolonged_to(after, t) - prolonged_to(before, t);
    const auto size = size_of_jump(step, plain);
    return size ? std::optional{Jump{t, *size}} : std::nullopt;
}

// Where the line leaps, near a jump found on a grid.
double leap_near(const PitchLine& line, const Jump& jump)
{
    const auto near = between(line, jump.at_s - 0.035, jump.at_s + 0.035);
    double most = 0.0;
    double place = jump.at_s;
    for (std::size_t i = 1; i < near.size(); ++i) {
        const double leap = (near[i].st - near[i - 1].st) * std::copysign(1.0, jump.st);
        if (leap <= most) continue;
        most = leap;
        place = 0.5 * (near[i].at_s + near[i - 1].at_s);
    }
    return place;
}

// Where the voice leapt. The track may follow late, but windows that hold both pitches repeat
// badly: the middle of the lack of confidence about the leap.
double place_of(const TimedContour& track, const PitchLine& line, const Jump& jump)
{
    const double leap_s = leap_near(line, jump);
    std::vector<const ContourPoint*> around;
    for (const ContourPoint& p : track.contour) {
        const double at = time_of(p.at, track.rate).count();
        if (at > leap_s - 0.09 && at < leap_s + 0.06) around.push_back(&p);
    }
    std::vector<double> confidence;
    confidence.reserve(around.size());
    for (const ContourPoint* p : around) confidence.push_back(p->confidence);
    if (confidence.empty()) return leap_s;
    const double usual = median_of(confidence);
    double lack = 0.0;
    double moment = 0.0;
    for (const ContourPoint* p : around) {
        const double missing = std::max(0.0, usual - 0.1 - p->confidence);
        lack += missing;
        moment += missing * time_of(p->at, track.rate).count();
    }
    return lack > 0.1 ? moment / lack : leap_s;
}

// The strongest of each cluster of instants at which a jump is seen.
std::vector<Jump> jumps_in(const TimedContour& track, const PitchLine& line)
{
    std::vector<Jump> jumps;
    std::optional<Jump> best;
    const auto close = [&] {
        if (best) jumps.push_back({place_of(track, line, *best), best->st});
        best.reset();
    };
    for (double t = line.front().at_s; t <= line.back().at_s; t += kGridSeconds) {
        const auto here = jump_at(line, t);
        if (!here || (best && best->st * here->st < 0.0)) close();
        if (here && (!best || std::abs(here->st) > std::abs(best->st))) best = here;
    }
    close();
    return jumps;
}

// The points whose hop begins at from_s <= t < to_s.
std::span<const ContourPoint> hops_between(const TimedContour& track, double from_s, double to_s)
{
    const auto before = [](const ContourPoint& p, SampleIndex t) { return p.hop_begin < t; };
    const auto first = std::lower_bound(track.contour.begin(), track.contour.end(),
                                        index_of(from_s, track.rate), before);
    const auto last =
        std::lower_bound(first, track.contour.end(), index_of(to_s, track.rate), before);
    return {first, last};
}

// A jump may hide the voice from the estimator for longer than a window.
std::vector<Jump> jumps_over_holes(const PitchLine& line)
{
    std::vector<Jump> jumps;
    for (const TimeSpan& hole : holes_in(line)) {
        const double reach_s = kLineReachSeconds - kBlurredSeconds;
        const auto before = between(line, hole.from - reach_s, hole.from);
        const auto after = between(line, hole.to, hole.to + reach_s + kGridSeconds);
        if (hole.length() > kLongestHiddenSeconds || before.size() < 3 || after.size() < 3)
            continue;
        const double middle = 0.5 * (hole.from + hole.to);
        const double step = prolonged_to(after, middle) - prolonged_to(before, middle);
        const double plain = median_st(after) - median_st(before);
        if (const auto size = size_of_jump(step, plain)) jumps.push_back({hole.from, *size});
    }
    return jumps;
}

// Those found in both ways once.
std::vector<Jump> all_jumps(const TimedContour& track, const PitchLine& line)
{
    std::vector<Jump> jumps = jumps_in(track, line);
    for (const Jump& hidden : jumps_over_holes(line)) {
        const bool known = std::any_of(jumps.begin(), jumps.end(), [&](const Jump& jump) {
            return std::abs(jump.at_s - hidden.at_s) < kLongestHiddenSeconds;
        });
        if (!known) jumps.push_back(hidden);
    }
    std::sort(jumps.begin(), jumps.end(),
              [](const Jump& a, const Jump& b) { return a.at_s < b.at_s; });
    return jumps;
}

// The level that `share` of the hops stay below; digital silence where there is no hop at all.
double level_quantile(const TimedContour& track, double from_s, double to_s, double share)
{
    std::vector<double> level;
    for (const ContourPoint& p : hops_between(track, from_s, to_s)) level.push_back(p.level.value);
    if (level.empty()) return kDigitalSilence.value;
    const auto place =
        level.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(level.size() - 1));
    std::nth_element(level.begin(), place, level.end());
    return *place;
}

// Runs of hops that are much softer than the voice before and after them.
std::vector<TimeSpan> quiet_spans(const TimedContour& track)
{
    std::vector<TimeSpan> spans;
    if (track.contour.size() < 2) return spans;
    const double hop_s = duration_of(track.contour[1].at - track.contour[0].at, track.rate).count();
    for (const ContourPoint& p : track.contour) {
        const double at = time_of(p.hop_begin, track.rate).count();
        const double before = level_quantile(track, at - kGapContextSeconds, at, kLoudShare);
        const double after = level_quantile(track, at, at + kGapContextSeconds, kLoudShare);
        if (std::min(before, after) - p.level.value < kGapDepthDb) continue;
        if (!spans.empty() && at - spans.back().to < 0.5 * hop_s) {
            spans.back().to = at + hop_s;
        } else {
            spans.push_back({at, at + hop_s});
        }
    }
    return spans;
}

// Whether the voice comes back at once: it does after a gap, also in a room that rings into it.
// When a harmonic passes between two resonances the level comes back as slowly as it went.
bool ends_sharply(const TimedContour& track, const TimeSpan& span)
{
    const double inside = level_quantile(track, span.to - 0.025, span.to, 0.5);
    const double after = level_quantile(track, span.to, span.to + 0.025, 1.0);
    return after - inside >= kSharpDb;
}

bool overlap(const TimeSpan& a, const TimeSpan& b) { return a.from < b.to && b.from < a.to; }

bool is_mostly_fry(const TimedContour& track, const TimeSpan& span)
{
    int fry = 0;
    int all = 0;
    for (const ContourPoint& p : track.contour) {
        const double at = time_of(p.at, track.rate).count();
        if (at < span.from || at >= span.to) continue;
        fry += p.phonation == Phonation::fry;
        ++all;
    }
    return 2 * fry > all;
}

bool has_voice_on_both_sides(const PitchLine& line, const TimeSpan& gap)
{
    return between(line, gap.from - 0.12, gap.from + 0.02).size() >= 4 &&
           between(line, gap.to - 0.02, gap.to + 0.12).size() >= 4;
}

// A weak voice may hide in the air around it; one that has stopped leaves less sound.
bool is_softer(const TimedContour& track, const TimeSpan& hole)
{
    // Hop levels and f0 of one point are 15 ms apart.
    const double inside = level_quantile(track, hole.from, hole.to, 0.5);
    const double before = level_quantile(track, hole.from - kHoleContextSeconds, hole.from, 0.5);
    const double after = level_quantile(track, hole.to, hole.to + kHoleContextSeconds, 0.5);
    return std::min(before, after) - inside >= kHoleDepthDb;
}

// Where the voice falls silent, and where its periodicity fails though the sound goes on.
std::vector<TimeSpan> gaps_in(const TimedContour& track, const PitchLine& line)
{
    const std::vector<TimeSpan> holes = holes_in(line);
    std::vector<TimeSpan> gaps = quiet_spans(track);
    std::erase_if(gaps, [&](const TimeSpan& gap) {
        const bool voiceless = std::any_of(
            holes.begin(), holes.end(), [&](const TimeSpan& hole) { return overlap(gap, hole); });
        return !voiceless && !ends_sharply(track, gap);
    });
    for (const TimeSpan& hole : holes) {
        const bool known = std::any_of(gaps.begin(), gaps.end(),
                                       [&](const TimeSpan& gap) { return overlap(gap, hole); });
        if (!known && is_softer(track, hole)) gaps.push_back(hole);
    }
    std::erase_if(gaps, [&](const TimeSpan& gap) {
        return gap.length() < kShortestGapSeconds || gap.length() > kLongestGapSeconds ||
               is_mostly_fry(track, gap) || !has_voice_on_both_sides(line, gap);
    });
    std::sort(gaps.begin(), gaps.end(),
              [](const TimeSpan& a, const TimeSpan& b) { return a.from < b.from; });
    return gaps;
}

// A crack and its return are one break; a jump across a gap is part of the gap.
std::vector<Jump> told_jumps(const std::vector<Jump>& jumps, const std::vector<TimeSpan>& gaps)
{
    std::vector<Jump> told;
    for (const Jump& jump : jumps) {
        const bool in_gap = std::any_of(gaps.begin(), gaps.end(), [&](const TimeSpan& gap) {
            return jump.at_s > gap.from - 0.05 && jump.at_s < gap.to + 0.05;
        });
        const bool returns = !told.empty() && jump.at_s - told.back().at_s < kOneCrackSeconds &&
                             jump.st * told.back().st < 0.0;
        if (!in_gap && !returns) told.push_back(jump);
    }
    return told;
}

std::vector<PitchBreak> breaks_of(const std::vector<Jump>& jumps, const std::vector<TimeSpan>& gaps,
                                  SampleRate rate)
{
    std::vector<PitchBreak> breaks;
    for (const Jump& jump : told_jumps(jumps, gaps)) {
        breaks.push_back({index_of(jump.at_s, rate), BreakKind::jump, Semitones{jump.st}, {}});
    }
    for (const TimeSpan& gap : gaps) {
        breaks.push_back({index_of(gap.from, rate), BreakKind::gap, {}, Seconds{gap.length()}});
    }
    std::sort(breaks.begin(), breaks.end(),
              [](const PitchBreak& a, const PitchBreak& b) { return a.at < b.at; });
    return breaks;
}

std::vector<PitchLine> cut(const PitchLine& line, std::vector<double> cuts_s)
{
    std::sort(cuts_s.begin(), cuts_s.end());
    std::vector<PitchLine> pieces(1);
    auto next = cuts_s.begin();
    for (const LinePoint& p : line) {
        bool crossed = false;
        for (; next != cuts_s.end() && *next <= p.at_s; ++next) crossed = true;
        if (crossed) pieces.emplace_back();
        pieces.back().push_back(p);
    }
    std::erase_if(pieces, [](const PitchLine& piece) {
        return piece.empty() || piece.back().at_s - piece.front().at_s < kShortestPieceSeconds;
    });
    return pieces;
}

}  // namespace

BrokenLine break_line(std::span<const ContourPoint> contour, SampleRate rate)
{
    const TimedContour track{contour, rate};
    const PitchLine line = without_slips(with_octaves_repaired(voiced_line(contour, rate)));
    if (line.empty()) return {};
    const std::vector<Jump> jumps = all_jumps(track, line);
    const std::vector<TimeSpan> gaps = gaps_in(track, line);
    std::vector<double> cuts_s;
    cuts_s.reserve(jumps.size() + gaps.size());
    for (const Jump& jump : jumps) cuts_s.push_back(jump.at_s);
    for (const TimeSpan& gap : gaps) cuts_s.push_back(0.5 * (gap.from + gap.to));
    return {cut(line, std::move(cuts_s)), breaks_of(jumps, gaps, rate)};
}

}  // namespace holdwell
