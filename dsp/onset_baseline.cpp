#include "dsp/onset_baseline.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr int kFewestOfAName = 3;
constexpr double kShortestRise = 5.0;  // ms; a boundary is kept within these
constexpr double kLongestRise = 60.0;
constexpr double kShortestAir = 25.0;
constexpr double kLongestAir = 200.0;

struct Boundary {
    double usual_ms;
    double lowest_ms;
    double highest_ms;
};

struct Side {
    double value_ms;
    bool is_above;  // she put it on the upper side: easy, or breathy
};

double ms_of(Seconds t) { return t.count() * 1000.0; }
Seconds seconds_of(double ms) { return Seconds{ms / 1000.0}; }

int contradictions(const std::vector<Side>& sides, double boundary_ms)
{
    return static_cast<int>(std::count_if(sides.begin(), sides.end(), [&](const Side& s) {
        return (s.value_ms >= boundary_ms) != s.is_above;
    }));
}

bool has_enough_of_both(const std::vector<Side>& sides)
{
    const auto above =
        std::count_if(sides.begin(), sides.end(), [](const Side& s) { return s.is_above; });
    return above >= kFewestOfAName && std::ssize(sides) - above >= kFewestOfAName;
}

double distance(double a_ms, double b_ms) { return std::abs(std::log(a_ms / b_ms)); }

double learnt(std::vector<Side> sides, const Boundary& boundary)
{
    if (!has_enough_of_both(sides)) return boundary.usual_ms;
    std::sort(sides.begin(), sides.end(),
              [](const Side& a, const Side& b) { return a.value_ms < b.value_ms; });
    double best = boundary.usual_ms;
    int fewest = contradictions(sides, best);
    for (std::size_t i = 1; i < sides.size(); ++i) {
        const double below = std::max(sides[i - 1].value_ms, 1.0);
        const double above = std::max(sides[i].value_ms, 1.0);
        const double middle =
            std::clamp(std::sqrt(below * above), boundary.lowest_ms, boundary.highest_ms);
        const int wrong = contradictions(sides, middle);
        const bool nearer = distance(middle, boundary.usual_ms) < distance(best, boundary.usual_ms);
        if (wrong < fewest || (wrong == fewest && nearer)) {
            best = middle;
            fewest = wrong;
        }
    }
    return best;
}

// Both thresholds move by the same factor, so that the doubtful zone between them stays as wide.
double factor_for(const std::vector<Side>& sides, const Boundary& boundary)
{
    return learnt(sides, boundary) / boundary.usual_ms;
}

double middle_of(Seconds a, Seconds b) { return std::sqrt(ms_of(a) * ms_of(b)); }

// Of however many labels.
OnsetThresholds learnt_from(std::span<const LabelledOnset> labelled, const OnsetThresholds& usual)
{
    std::vector<Side> rises, airs;
    for (const LabelledOnset& o : labelled) {
        airs.push_back({ms_of(o.features.air_lead), o.label == OnsetClass::breathy});
        if (o.label != OnsetClass::breathy)
            rises.push_back({ms_of(o.features.rise), o.label == OnsetClass::easy});
    }
    const double rise = factor_for(
        rises, {middle_of(usual.hard_rise, usual.easy_rise), kShortestRise, kLongestRise});
    const double air =
        factor_for(airs, {middle_of(usual.no_air, usual.breathy_air), kShortestAir, kLongestAir});
    OnsetThresholds moved = usual;
    moved.hard_rise = seconds_of(ms_of(usual.hard_rise) * rise);
    moved.hard_rise_with_click = seconds_of(ms_of(usual.hard_rise_with_click) * rise);
    moved.easy_rise = seconds_of(ms_of(usual.easy_rise) * rise);
    moved.no_air = seconds_of(ms_of(usual.no_air) * air);
    moved.breathy_air = seconds_of(ms_of(usual.breathy_air) * air);
    return moved;
}

void tally(AgreementTable& table, const LabelledOnset& onset, const OnsetThresholds& thresholds)
{
    const OnsetClass ours = class_of(onset.features, thresholds);
    ++table[static_cast<std::size_t>(onset.label)][static_cast<std::size_t>(ours)];
}

}  // namespace

OnsetThresholds personal_thresholds(std::span<const LabelledOnset> labelled,
                                    const OnsetThresholds& usual)
{
    return labelled.size() < kFewestLabels ? usual : learnt_from(labelled, usual);
}

OnsetAgreement agreement_in(const AgreementTable& table)
{
    std::array<double, 4> hers{}, ours{};
    double all = 0.0, same = 0.0;
    for (std::size_t row = 0; row < 4; ++row) {
        for (std::size_t column = 0; column < 4; ++column) {
            const double n = table[row][column];
            hers[row] += n;
            ours[column] += n;
            all += n;
            if (row == column) same += n;
        }
    }
    OnsetAgreement result;
    result.onsets = static_cast<int>(all);
    if (all == 0.0) return result;
    double by_chance = 0.0;
    for (std::size_t k = 0; k < 4; ++k) by_chance += hers[k] * ours[k] / (all * all);
    result.percent = 100.0 * same / all;
    if (by_chance < 1.0) result.kappa = (same / all - by_chance) / (1.0 - by_chance);
    return result;
}

void OnsetBaseline::add(const LabelledOnset& onset)
{
    if (onset.label != OnsetClass::unsure) labelled_.push_back(onset);
}

OnsetThresholds OnsetBaseline::thresholds() const { return personal_thresholds(labelled_); }

void OnsetBaseline::take_back()
{
    if (!labelled_.empty()) labelled_.pop_back();
}

std::optional<OnsetAgreement> OnsetBaseline::agreement() const
{
    if (!is_ready()) return std::nullopt;
    AgreementTable table{};
    for (std::size_t i = 0; i < labelled_.size(); ++i) {
        std::vector<LabelledOnset> others = labelled_;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        tally(table, labelled_[i], learnt_from(others, {}));
    }
    return agreement_in(table);
}

std::optional<OnsetAgreement> OnsetBaseline::usual_agreement() const
{
    if (!is_ready()) return std::nullopt;
    AgreementTable table{};
    for (const LabelledOnset& onset : labelled_) tally(table, onset, {});
    return agreement_in(table);
}

}  // namespace holdwell
