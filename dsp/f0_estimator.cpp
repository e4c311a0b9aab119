#include "dsp/f0_estimator.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <string>
#include <vector>

#include "dsp/biquad.h"
#include "dsp/decimator.h"
#include "dsp/difference_function.h"
#include "dsp/f0_tracker.h"
#include "dsp/harmonic_fit.h"

namespace holdwell {

namespace {
double env(const char* name, double v)
{
    const char* e = std::getenv(name);
    return e ? std::atof(e) : v;
}
const Seconds kWindow{env("WIN", 0.037)};
const double kShape = env("SHAPE", 0.5);
const Hertz kSelectionBand{env("SELBAND", 2200.0)};
const Hertz kRefinementBand{env("REFBAND", 3500.0)};
const int kFitted = static_cast<int>(env("NFIT", 3));
const double kResidualFloor = env("RFLOOR", 0.06);
const double kPricePerSecond = env("KAPPA", 80.0);
const double kPricePerOctave = env("BETA", 0.0);
const double kUnvoicedResidual = env("UVRES", 0.45);
const double kUnvoicedPeriod = 1.0 / 200.0;
const double kStartResidual = env("STARTRES", 0.30);
const double kStayResidual = env("STAYRES", 0.45);
const std::size_t kLines = static_cast<std::size_t>(env("KLINES", 12));
const double kLp = env("LP", 1800.0);
const double kMem = env("MEM", 0.95);

}  // namespace

struct F0Estimator::Chain {
    explicit Chain(const AnalysisConfig& c)
        : config{c}, decimator{c.sample_rate}, rate{decimator.output_rate()},
          n{static_cast<std::size_t>(std::lround(kWindow.count() * rate.hz)) / 2 * 2},
          scratch(static_cast<std::size_t>(hop_length(c).value) + 1), full(n, 0.0f), low(n, 0.0f),
          difference{rate, n, {c.lowest_f0, c.highest_f0}}, selection{rate, n, kShape},
          refinement{rate, n, kShape},
          tracker{TrackerSettings{.memory = kMem}}, rumble{BiquadCascade<1>::high_pass({50.0}, rate)},
          selection_band{BiquadCascade<2>::low_pass({kLp}, rate)}
    {
    }
    AnalysisConfig config;
    Decimator decimator;
    SampleRate rate;
    std::size_t n;
    std::vector<float> scratch;
    std::vector<float> full, low;  // the frame, oldest first
    DifferenceFunction difference;
    HarmonicFit selection, refinement;
    F0Tracker tracker;
    BiquadCascade<1> rumble;
    BiquadCascade<2> selection_band;
    SampleIndex next{};
    bool was_periodic{false};
};

F0Estimator::F0Estimator(const AnalysisConfig& config) : chain_{std::make_unique<Chain>(config)} {}
F0Estimator::~F0Estimator() = default;
F0Estimator::F0Estimator(F0Estimator&&) noexcept = default;
F0Estimator& F0Estimator::operator=(F0Estimator&&) noexcept = default;
void F0Estimator::reset() noexcept { *this = F0Estimator{chain_->config}; }

void F0Estimator::skip(SampleCount lost) noexcept
{
    Chain& c = *chain_;
    c.next = c.next + lost;
    c.decimator.reset();
    c.tracker.reset();
    std::fill(c.full.begin(), c.full.end(), 0.0f);
    std::fill(c.low.begin(), c.low.end(), 0.0f);
    c.was_periodic = false;
}

F0Reading F0Estimator::push(std::span<const float> hop, Decibels over_room) noexcept
{
    Chain& c = *chain_;
    const std::size_t m = c.decimator.push(hop, c.scratch);
    c.next = c.next + SampleCount{static_cast<std::int64_t>(hop.size())};
    std::copy(c.full.begin() + static_cast<long>(m), c.full.end(), c.full.begin());
    std::copy(c.low.begin() + static_cast<long>(m), c.low.end(), c.low.begin());
    for (std::size_t i = 0; i < m; ++i) {
        const double v = c.rumble.push(static_cast<double>(c.scratch[i]));
        c.full[c.n - m + i] = static_cast<float>(v);
        c.low[c.n - m + i] = static_cast<float>(c.selection_band.push(v));
    }
    c.rumble.flush();
    c.selection_band.flush();
    F0Reading r;
    r.centre = c.next - c.decimator.delay() -
               SampleCount{static_cast<std::int64_t>(c.n * c.decimator.factor() / 2)};
    const PeriodCandidates cands = c.difference.find_candidates(c.low);
    std::array<CostedCandidate, F0Tracker::kMost> costed{};
    const std::size_t count = std::min<std::size_t>(cands.count, static_cast<std::size_t>(kFitted));
    c.selection.set_frame(c.low);
    for (std::size_t i = 0; i < count; ++i) {
        const LineFit fit = c.selection.fit(cands.list[i].f0, kSelectionBand, kLines);
        const double period = 1.0 / cands.list[i].f0.value;
        costed[i] = {cands.list[i].f0, std::log(fit.residual + kResidualFloor) +
                                           kPricePerSecond * period +
                                           kPricePerOctave * std::log2(period * 200.0)};
    }
    double unvoiced = std::log(kUnvoicedResidual + kResidualFloor) + kPricePerSecond * kUnvoicedPeriod;
    if (over_room.value < 6.0) unvoiced -= 0.2 * (6.0 - over_room.value);
    const F0Tracker::Decision d = c.tracker.push(costed.data(), count, unvoiced);
    if (d.best) {
        c.refinement.set_frame(c.full);
        const Hertz guess = costed[*d.best].f0;
        const auto fine = c.refinement.refine(guess, 0.0, kRefinementBand);
        if (fine && std::abs(std::log2(fine->f0.value / guess.value)) < 0.06) {
            r.f0 = fine->f0;
            r.error = Cents{1200.0 / std::numbers::ln2 * fine->error.value / fine->f0.value};
            r.slope_semitones_per_s =
                12.0 / std::numbers::ln2 * fine->slope_hz_per_s / fine->f0.value;
            r.residual = fine->residual;
        }
    }
    r.periodic = d.voiced && r.f0 && r.residual < (c.was_periodic ? kStayResidual : kStartResidual);
    c.was_periodic = r.periodic;
    return r;
}

}  // namespace holdwell
