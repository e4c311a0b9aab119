#include <algorithm>
#include <cmath>
#include <span>

#include "app/ui/present.h"

namespace holdwell {
namespace {

constexpr Seconds kBlankRibbon{20.0};  // without a goal: most holds end within it

double height_of(Cents deviation, const SlotScale& scale)
{
    const double folded = deviation.value - 1200.0 * scale.octaves_off;
    return std::clamp(folded / scale.band.value, -RibbonView::kReach, RibbonView::kReach);
}

InkStroke smoothed(const InkStroke& stroke, std::size_t half_width)
{
    InkStroke smooth = stroke;
    for (std::size_t i = 0; i < stroke.size(); ++i) {
        const std::size_t half = std::min({half_width, i, stroke.size() - 1 - i});
        double sum = 0.0;
        for (std::size_t j = i - half; j <= i + half; ++j) sum += stroke[j].height;
        smooth[i].height = sum / static_cast<double>(2 * half + 1);
    }
    return smooth;
}

// With a goal the shore stands still until the hold passes it; then the ribbon unrolls.
double length_of_ribbon(const RibbonView& r, Seconds held, Seconds base)
{
    constexpr double kRoomAhead = 1.06;
    double length = base.count();
    if (r.notch_s) length = std::max(length, *r.notch_s * kRoomAhead);
    return held.count() >= base.count() ? std::max(length, held.count() * kRoomAhead) : length;
}

double tick_for(double length_s)
{
    return length_s <= 45.0 ? 5.0 : length_s <= 100.0 ? 10.0 : 30.0;
}

// On the screen: the hold under way, or the one just finished.
Seconds held_on_screen(const Model& model)
{
    if (model.hold.under_way) return model.hold.under_way->so_far;
    if (model.stage != Stage::finished || !model.last) return Seconds{0.0};
    if (model.last->hold) return model.last->hold->length;
    return model.last->sibilant.value_or(Seconds{0.0});
}

int octaves_on_screen(const Model& model)
{
    if (model.hold.under_way) return model.hold.under_way->octaves_off;
    return model.last ? model.last->octaves_off : 0;
}

PenTip tip_of(const RibbonView& r, const Model& model, Seconds held)
{
    const double level = model.reading ? model.reading->level.value : kDigitalSilence.value;
    // In twentieths, so that the picture rests when the voice does.
    const double breath = std::round(std::clamp((level + 60.0) / 50.0, 0.0, 1.0) * 20.0) / 20.0;
    if (r.ink.empty()) return {{held.count(), 0.0}, breath};
    return {r.ink.back().back(), breath};
}

void lay_ink(RibbonView& r, const Model& model, Seconds held)
{
    const bool is_sounding = model.hold.under_way.has_value();
    const bool hides = is_sounding && pitch_line_of(model) == PitchLine::hidden;
    if (hides || !has_target(model.drill.kind)) {
        r.filled_s = held.count();
    } else {
        r.ink = strokes_of(model.hold.ink.slots(), {.slot = model.hold.ink.slot_length(),
                                                    .band = model.drill.band,
                                                    .octaves_off = octaves_on_screen(model)});
    }
    if (is_sounding) r.tip = tip_of(r, model, held);
}

std::vector<PathPoint> stroke_of(const std::vector<std::pair<SampleCount, Hertz>>& stroke,
                                  SampleRate rate, Hertz lowest_line)
{
    std::vector<PathPoint> points;
    points.reserve(stroke.size());
    for (const auto& [at, f0] : stroke) {
        points.push_back({duration_of(at, rate).count(), semitones_between(lowest_line, f0).value});
    }
    return points;
}

struct Span {
    Note lowest{48};   // C3
    Note highest{72};  // C5
};

// Whole octaves from C to C around all that is drawn.
Span span_of(const Model& model)
{
    std::optional<double> low, high;
    for (const GlideOnScreen* glide : {&model.glide, &model.previous_glide}) {
        for (const auto& stroke : glide->strokes) {
            for (const auto& point : stroke) {
                low = std::min(low.value_or(point.second.value), point.second.value);
                high = std::max(high.value_or(point.second.value), point.second.value);
            }
        }
    }
    if (!low || !high) return {};
    const int bottom = nearest_note(Hertz{*low}).midi / 12 * 12;
    const int top = (nearest_note(Hertz{*high}).midi / 12 + 1) * 12;
    return {Note{bottom}, Note{std::max(top, bottom + 12)}};
}

double length_of(const GlideOnScreen& glide, SampleRate rate)
{
    if (!glide.last || !glide.begin) return 0.0;
    return duration_of(*glide.last - *glide.begin, rate).count();
}

void name_ends(GlideView& view, const Glide& glide, Hertz lowest_line)
{
    if (!glide.lowest || !glide.highest) return;
    const double at_low = glide.direction == GlideDirection::up ? 0.0 : view.length_s;
    const double at_high = glide.direction == GlideDirection::up ? view.length_s : 0.0;
    view.lowest = {at_low, semitones_between(lowest_line, *glide.lowest).value};
    view.highest = {at_high, semitones_between(lowest_line, *glide.highest).value};
    view.lowest_name = name_of(nearest_note(*glide.lowest), Spelling::display);
    view.highest_name = name_of(nearest_note(*glide.highest), Spelling::display);
}

}  // namespace

std::vector<InkStroke> strokes_of(const std::vector<std::optional<Cents>>& slots,
                                  const SlotScale& scale)
{
    constexpr Seconds kPause{50ms};
    constexpr Seconds kSmoothing{60ms};
    const double slot_s = scale.slot.count();
    std::vector<InkStroke> strokes;
    std::optional<double> last_at;
    for (std::size_t i = 0; i < slots.size(); ++i) {
        if (!slots[i]) continue;
        const double at = (static_cast<double>(i) + 0.5) * slot_s;
        if (!last_at || at - *last_at > std::max(kPause.count(), 1.5 * slot_s)) {
            strokes.emplace_back();
        }
        strokes.back().push_back({at, height_of(*slots[i], scale)});
        last_at = at;
    }
    const auto half_width = static_cast<std::size_t>(kSmoothing / scale.slot);
    for (InkStroke& stroke : strokes) stroke = smoothed(stroke, half_width);
    return strokes;
}

RibbonView ribbon_of(const Model& model)
{
    RibbonView r;
    const Drill& drill = model.drill;
    const Seconds held = held_on_screen(model);
    if (drill.goal) {
        r.shore_s = drill.goal->count();
        r.shore_name = short_seconds(*drill.goal);
    }
    if (const auto best = longest_yet(model)) {
        r.notch_s = rounded_to_tenth(*best).count();
        r.notch_name = "longest yet";
    }
    r.length_s = length_of_ribbon(r, held, drill.goal.value_or(kBlankRibbon));
    r.tick_s = tick_for(r.length_s);
    if (has_target(drill.kind)) {
        r.high = "high";
        r.middle = name_of(drill.target, Spelling::display);
        r.low = "low";
    }
    lay_ink(r, model, held);
    if (model.stage == Stage::finished && model.last) {
        for (const Seconds gap : model.last->interruptions_at) r.gaps_s.push_back(gap.count());
    }
    return r;
}

GlideView glide_picture_of(const Model& model)
{
    GlideView view;
    const Span span = span_of(model);
    const Hertz bottom = frequency_of(span.lowest);
    const SampleRate rate = model.capture.rate;
    view.height_semitones = span.highest.midi - span.lowest.midi;
    view.length_s = std::max(
        {5.0, length_of(model.glide, rate) * 1.06, length_of(model.previous_glide, rate) * 1.06});
    for (int midi = span.lowest.midi; midi <= span.highest.midi; midi += 12) {
        view.lines.push_back({static_cast<double>(midi - span.lowest.midi), name_of(Note{midi})});
    }
    for (const auto& s : model.glide.strokes) view.strokes.push_back(stroke_of(s, rate, bottom));
    for (const auto& s : model.previous_glide.strokes) {
        view.previous.push_back(stroke_of(s, rate, bottom));
    }
    // Where pulses are counted as fry and no longer as voice: 70 Hz (Blomgren et al. 1998, from
    // memory, give 24 .. 72 Hz for pulse register).
    const double fry = semitones_between(bottom, Hertz{70.0}).value;
    if (fry > 0.0) view.fry_below_semitones = fry;
    if (model.stage != Stage::finished || !model.last || !model.last->glide) return view;
    const Glide& glide = *model.last->glide;
    for (const PitchBreak& b : glide.breaks) {
        view.breaks.push_back({duration_of(b.at - glide.onset, rate).count(),
                               b.kind == BreakKind::jump ? "jump" : "gap"});
    }
    name_ends(view, glide, bottom);
    return view;
}

}  // namespace holdwell
