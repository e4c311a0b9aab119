#include "app/ui/present_ear.h"

#include <fmt/format.h>

#include <array>

namespace holdwell {
namespace {

std::string milliseconds(Seconds s) { return fmt::format("{:.0f} ms", s.count() * 1000.0); }

const char* short_name(OnsetClass c)
{
    constexpr std::array kNames{"easy", "hard", "breathy", "not sure"};
    return kNames[static_cast<std::size_t>(c)];
}

const char* letter_of(Weighting w)
{
    constexpr std::array kLetters{"A", "C", "Z"};
    return kLetters[static_cast<std::size_t>(w)];
}

FigureGroup latest_of(const StartNaming& starts)
{
    FigureGroup group{"This start", {}};
    if (!starts.latest) {
        group.figures.push_back({"none yet", "a start is heard with every hold"});
        return group;
    }
    const Onset& onset = *starts.latest;
    group.figures.push_back({"heard as", short_name(onset.named)});
    group.figures.push_back({"because", onset.reason});
    if (!onset.features) {
        group.figures.push_back({"your name for it", "cannot be learnt from: it was not clear"});
        return group;
    }
    const OnsetFeatures& f = *onset.features;
    group.figures.push_back({"rise, 10 to 90 %", milliseconds(f.rise)});
    if (f.rise_cycles)
        group.figures.push_back({"rise, in cycles", fmt::format("{:.1f}", *f.rise_cycles)});
    group.figures.push_back({"air before the voice", milliseconds(f.air_lead)});
    group.figures.push_back({"overshoot", fmt::format("{:.1f} dB", f.overshoot.value)});
    group.figures.push_back({"first cycles", f.irregular ? "uneven" : "even"});
    group.figures.push_back(
        {"your name for it", starts.given ? short_name(*starts.given) : "none"});
    return group;
}

FigureGroup counts_of(const OnsetBaseline& baseline)
{
    std::array<int, 4> counts{};
    for (const LabelledOnset& o : baseline.labelled()) ++counts[static_cast<std::size_t>(o.label)];
    FigureGroup group{"Named so far", {}};
    group.figures.push_back(
        {"easy, hard, breathy", fmt::format("{}, {}, {}", counts[0], counts[1], counts[2])});
    if (!baseline.is_ready()) {
        group.figures.push_back({"to go", fmt::format("{}, then your names are used",
                                                      kFewestLabels - baseline.count())});
    }
    return group;
}

std::string agreement_words(const OnsetAgreement& a)
{
    const std::string kappa = a.kappa ? fmt::format("kappa {:.2f}", *a.kappa) : "kappa not known";
    return fmt::format("{:.0f} % of {}, {}", a.percent, a.onsets, kappa);
}

FigureGroup agreement_of(const OnsetBaseline& baseline)
{
    FigureGroup group{"Agreement with you", {}};
    const auto hers = baseline.agreement();
    const auto usual = baseline.usual_agreement();
    if (!hers || !usual) return group;
    const OnsetThresholds t = baseline.thresholds();
    group.figures = {
        {"with what was learnt", agreement_words(*hers) + "; each start left out in its turn"},
        {"without it", agreement_words(*usual)},
        {"hard up to", milliseconds(t.hard_rise)},
        {"easy from", milliseconds(t.easy_rise)},
        {"breathy from", milliseconds(t.breathy_air) + " of air"}};
    return group;
}

std::string heard_words(const MeterReading& level)
{
    if (level.recent.empty()) return "nothing yet";
    if (const auto steady = steady_level(level)) {
        return fmt::format("\u2212{:.1f} dBFS, steady", -steady->value);
    }
    return fmt::format("\u2212{:.0f} dBFS, not steady yet", -level.recent.back().value);
}

}  // namespace

CheckedSetup setup_of(const Model& model)
{
    CheckedSetup now{.microphone = model.capture.device, .rate = model.capture.rate};
    const auto& last = model.preferences.last_check;
    if (last && is_same_device(*last, now)) now.input_level = last->input_level;
    return now;
}

std::optional<SplCalibration> calibration_of(const Model& model)
{
    return calibration_for(model.preferences.spl, model.capture.device, model.capture.rate);
}

std::string spl_words(const SplCalibration& calibration, Dbfs level)
{
    return fmt::format("{:.0f} dB SPL ({}), at {:.0f} cm", calibration.level_of(level).value,
                       letter_of(calibration.weighting()), calibration.distance().value * 100.0);
}

DetailsView present_starts(const Model& model)
{
    const StartNaming& starts = model.ear.starts;
    DetailsView view;
    view.title = "Name the starts";
    view.lead = "Name each start as you hear it. From ten names on, starts are named by your ear "
                "instead of the usual limits.";
    view.groups = {latest_of(starts), counts_of(starts.baseline)};
    if (starts.baseline.is_ready()) view.groups.push_back(agreement_of(starts.baseline));
    view.keys = {
        {"1", "easy", Action::name_easy},       {"2", "hard", Action::name_hard},
        {"3", "breathy", Action::name_breathy}, {"U", "take the last back", Action::take_back},
        {"F1", "help", Action::open_help},      {"Esc", "back", Action::back}};
    return view;
}

ChoicesView present_calibration(const Model& model)
{
    const MeterReading& level = model.ear.level;
    ChoicesView view;
    view.title = "Level in dB SPL";
    view.rows = {{"Meter reads", fmt::format("{:.0f} dB", level.meter.value),
                  "a steady sound, read beside this microphone"},
                 {"Weighting", letter_of(level.weighting),
                  level.weighting == Weighting::a
                      ? "A cannot be used: it takes low notes for softer"
                      : "as set on the meter: C or Z"},
                 {"Distance", fmt::format("{:.0f} cm", level.distance.value * 100.0),
                  "of the mouth from both"},
                 {"Microphone hears", heard_words(level), level.said}};
    view.focused = level.focused;
    view.keys = {{"Enter", "keep", Action::proceed},
                 {"\u2191 \u2193", "another row", Action::down},
                 {"\u2190 \u2192", "change it", Action::right},
                 {"U", "forget", Action::take_back},
                 {"Esc", "back", Action::back}};
    return view;
}

}  // namespace holdwell
