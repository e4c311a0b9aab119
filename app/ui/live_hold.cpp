#include "app/ui/live_hold.h"

#include <algorithm>
#include <cmath>

#include "app/ui/views.h"

namespace holdwell {
namespace {

constexpr Seconds kHop{10ms};
// The words follow the mean of about half a second, and hold for a second at least: shorter and
// they would flicker, longer and they would no longer be about the note now sounding.
constexpr double kSmoothing = 0.02;
constexpr Seconds kWordsHold{1.0};

Lie lie_of(Cents smoothed, const UnderWay& under_way, Cents band)
{
    if (under_way.octaves_off != 0) return Lie::other_octave;
    if (std::abs(smoothed.value) <= band.value) return Lie::near;
    return smoothed.value > 0.0 ? Lie::high : Lie::low;
}

HoldOnScreen begun(HoldOnScreen hold, const UnderWay& under_way, const Model& model)
{
    hold.ink.reset();
    hold.lie = Lie::unknown;
    hold.smoothed.reset();
    hold.since_change = Seconds{0.0};
    const Hertz target = frequency_of(model.drill.target);
    for (const VoicedHop& hop : hold.before) {
        if (hop.at < under_way.onset) continue;
        hold.ink.push(duration_of(hop.at - under_way.onset, model.capture.rate),
                      interval_between(target, hop.f0));
    }
    return hold;
}

HoldOnScreen with_ink(HoldOnScreen hold, const FrameReading& reading, const Model& model)
{
    const UnderWay& under_way = *hold.under_way;
    hold.since_change += kHop;
    if (!reading.f0) return hold;
    const Cents raw = interval_between(frequency_of(model.drill.target), *reading.f0);
    hold.ink.push(duration_of(reading.centre - under_way.onset, model.capture.rate), raw);
    const double folded = raw.value - 1200.0 * under_way.octaves_off;
    hold.smoothed = hold.smoothed
                        ? Cents{hold.smoothed->value + kSmoothing * (folded - hold.smoothed->value)}
                        : Cents{folded};
    const Lie lie = lie_of(*hold.smoothed, under_way, model.drill.band);
    const bool may_change = hold.since_change >= kWordsHold || hold.lie == Lie::unknown;
    if (lie != hold.lie && may_change && under_way.so_far >= Seconds{0.5}) {
        hold.lie = lie;
        hold.since_change = Seconds{0.0};
    }
    return hold;
}

}  // namespace

HoldOnScreen after_frame(HoldOnScreen hold, const FrameHeard& frame, const Model& model)
{
    const FrameReading& reading = frame.reading;
    constexpr std::size_t kOneSecond = 100;
    if (reading.f0) hold.before.push_back({reading.centre, *reading.f0});
    while (hold.before.size() > kOneSecond) hold.before.pop_front();

    const bool is_new =
        frame.under_way && (!hold.under_way || hold.under_way->onset != frame.under_way->onset);
    hold.under_way = frame.under_way;
    if (!hold.under_way) return hold;
    if (is_new) hold = begun(std::move(hold), *frame.under_way, model);
    return with_ink(std::move(hold), reading, model);
}

GlideOnScreen after_frame(GlideOnScreen glide, const FrameHeard& frame)
{
    if (!frame.under_way) return glide;
    const FrameReading& reading = frame.reading;
    if (!glide.begin || *glide.begin != frame.under_way->onset) {
        glide = {};
        glide.begin = frame.under_way->onset;
    }
    if (!reading.f0) return glide;
    // Two hops apart and more than three semitones: a new stroke, for the voice was not between.
    constexpr double kBreak = 3.0;
    const bool joined =
        glide.last && !glide.strokes.empty() &&
        std::abs(semitones_between(glide.strokes.back().back().second, *reading.f0).value) < kBreak;
    if (!joined) glide.strokes.emplace_back();
    glide.last = reading.centre;
    glide.strokes.back().emplace_back(reading.centre - *glide.begin, *reading.f0);
    return glide;
}

ToleranceTrace after_frame(ToleranceTrace trace, const FrameHeard& frame, const Model& model)
{
    constexpr std::size_t kSixSeconds = 600;
    std::optional<Cents> deviation;
    if (frame.reading.f0) {
        deviation = interval_between(frequency_of(model.drill.target), *frame.reading.f0);
    }
    trace.points.emplace_back(model.now, deviation);
    while (trace.points.size() > kSixSeconds) trace.points.pop_front();
    return trace;
}

int meter_steps(Dbfs level, int lit_before)
{
    constexpr double kBottom = -60.0;
    constexpr double kStep = 5.0;
    constexpr double kInertia = 1.5;
    const auto steps_at = [&](double value) {
        return std::clamp(static_cast<int>(std::floor((value - kBottom) / kStep)), 0,
                          MeterView::kSteps);
    };
    if (steps_at(level.value - kInertia) > lit_before) return steps_at(level.value - kInertia);
    if (steps_at(level.value + kInertia) < lit_before) return steps_at(level.value + kInertia);
    return lit_before;
}

}  // namespace holdwell
