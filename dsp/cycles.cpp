#include "dsp/cycles.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kKeptSeconds = 0.2;
constexpr double kRumbleHz = 30.0;
constexpr double kStretchPeriods = 0.5;
// How far a cycle may differ from what f0 says: three standard deviations of 3 % jitter, and the
// error of f0.
constexpr double kSearchPeriods = 0.12;
// A cycle's amplitude is taken from a quarter of a period before its mark, where the voice is
// weakest, to a quarter before the next.
constexpr double kAfterMarkPeriods = 0.25;
constexpr double kLikenessDistanceSeconds = 0.015;
// The whole of a period is matched again so far about the distance of the marks.
constexpr double kFineSearchPeriods = 0.06;

// sum of a[i] * b[i] for any n.
HOLDWELL_WIDE double product(const float* a, const float* b, std::size_t n)
{
    const std::size_t whole = n / kLanes * kLanes;
    double sum = dot(a, b, whole);
    for (std::size_t i = whole; i < n; ++i) sum += static_cast<double>(a[i] * b[i]);
    return sum;
}

// sum of w[i] * x[i]^2, i < n; n is a multiple of kLanes.
double weighted_energy(const float* w, const float* x, std::size_t n)
{
    std::array<float, kLanes> sum{};
    for (std::size_t i = 0; i < n; i += kLanes) {
        for (std::size_t j = 0; j < kLanes; ++j) sum[j] += w[i + j] * x[i + j] * x[i + j];
    }
    double total = 0.0;
    for (const float lane : sum) total += static_cast<double>(lane);
    return total;
}

// The vertex of the parabola through three equally spaced values, the middle one the highest.
struct Vertex {
    double shift{};
    double height{};
};
Vertex vertex_of(double left, double middle, double right)
{
    const double curve = left - 2.0 * middle + right;
    if (curve >= 0.0) return {0.0, middle};
    const double shift = 0.5 * (left - right) / curve;
    return {shift, middle - 0.25 * (left - right) * shift};
}

}  // namespace

CycleReader::CycleReader(const AnalysisConfig& config)
    : rate_{config.sample_rate},
      samples_(static_cast<std::size_t>(kKeptSeconds * config.sample_rate.hz) + kLanes),
      pole_{std::exp(-2.0 * std::numbers::pi * kRumbleHz / config.sample_rate.hz)}
{
    const double longest = config.sample_rate.hz / config.lowest_f0.value;
    stretch_.resize(padded(static_cast<std::size_t>(1.2 * kStretchPeriods * longest) + 2));
    weights_.resize(stretch_.size());
}

void CycleReader::reset() noexcept
{
    filled_ = 0;
    before_raw_ = before_ = 0.0;
    period_ = 0.0;
    marked_ = 0;
    joined_ = false;
}

void CycleReader::push(std::span<const float> hop, std::optional<Hertz> f0) noexcept
{
    append(hop);
    period_ = f0 ? rate_.hz / f0->value : 0.0;
    if (!f0) {
        marked_ = 0;
        joined_ = false;
    }
}

// Keeps the newest samples, without what is slower than any voice.
void CycleReader::append(std::span<const float> hop) noexcept
{
    const std::size_t room = samples_.size() - kLanes;
    const std::size_t kept = std::min(filled_, room - std::min(hop.size(), room));
    const std::size_t dropped = filled_ - kept;
    if (dropped > 0) {
        std::copy(samples_.begin() + static_cast<std::ptrdiff_t>(dropped),
                  samples_.begin() + static_cast<std::ptrdiff_t>(filled_), samples_.begin());
        for (double& mark : marks_) mark -= static_cast<double>(dropped);
    }
    filled_ = kept;
    for (const float raw : hop.last(std::min(hop.size(), room))) {
        const double x = std::isfinite(raw) ? static_cast<double>(raw) : 0.0;
        before_ = pole_ * (before_ + x - before_raw_);
        before_raw_ = x;
        samples_[filled_++] = static_cast<float>(before_);
    }
}

double CycleReader::energy_about(double place, double width) const noexcept
{
    const auto first = static_cast<std::size_t>(place - 0.5 * width);
    const auto last = static_cast<std::size_t>(place + 0.5 * width);
    double sum = 0.0;
    for (std::size_t i = first; i <= last; ++i) {
        sum += static_cast<double>(samples_[i]) * static_cast<double>(samples_[i]);
    }
    return sum;
}

// In the last period but two: where a third of a period holds most energy.
bool CycleReader::set_first_mark() noexcept
{
    const double from = static_cast<double>(filled_) - 3.0 * period_;
    if (from < period_) return false;
    double best = -1.0;
    for (double place = from; place < from + period_; place += 0.02 * period_) {
        const double energy = energy_about(place, period_ / 3.0);
        if (energy <= best) continue;
        best = energy;
        marks_[0] = place;
    }
    marked_ = 1;
    joined_ = false;
    return true;
}

// Weighted samples about a mark, padded with zeros.
void CycleReader::take_stretch(double mark) noexcept
{
    const double half = std::round(0.5 * kStretchPeriods * period_);
    const auto length = static_cast<std::size_t>(2.0 * half + 1.0);
    stretch_length_ = std::min(padded(length), stretch_.size());
    if (length != weighted_) set_weights(length);
    const auto first = static_cast<std::size_t>(std::round(mark) - half);
    for (std::size_t i = 0; i < stretch_length_; ++i) {
        stretch_[i] = weights_[i] * samples_[first + i];
    }
}

void CycleReader::set_weights(std::size_t length) noexcept
{
    for (std::size_t i = 0; i < stretch_length_; ++i) {
        const double turn = 2.0 * std::numbers::pi * (static_cast<double>(i) + 1.0) /
                            (static_cast<double>(length) + 1.0);
        weights_[i] = i < length ? static_cast<float>(0.5 - 0.5 * std::cos(turn)) : 0.0f;
    }
    weighted_ = length;
}

// The lag at which the stretch about `mark` fits best; nothing if the best lies at the edge.
HOLDWELL_WIDE std::optional<CycleReader::Match>
CycleReader::match_stretch(double mark) const noexcept
{
    const double half = std::round(0.5 * kStretchPeriods * period_);
    const auto first = static_cast<std::size_t>(std::round(mark) - half);
    const auto from = static_cast<std::size_t>(std::floor((1.0 - kSearchPeriods) * period_)) - 1;
    const auto to = static_cast<std::size_t>(std::ceil((1.0 + kSearchPeriods) * period_)) + 1;
    const auto correlation_at = [&](std::size_t lag) {
        const float* x = samples_.data() + first + lag;
        const double energy = weighted_energy(weights_.data(), x, stretch_length_);
        return energy > 0.0 ? dot(stretch_.data(), x, stretch_length_) / std::sqrt(energy) : 0.0;
    };
    double left = correlation_at(from);
    double middle = correlation_at(from + 1);
    std::optional<Match> best;
    for (std::size_t lag = from + 1; lag < to; ++lag) {
        const double right = correlation_at(lag + 1);
        if (middle >= left && middle > right && (!best || middle > best->correlation)) {
            const Vertex v = vertex_of(left, middle, right);
            best = Match{static_cast<double>(lag) + v.shift, middle};
        }
        left = middle;
        middle = right;
    }
    return best;
}

// The period about the newest mark beside the one about a mark 15 ms or more before.
std::optional<Likeness> CycleReader::likeness_of_last_period() const noexcept
{
    const double newest = marks_[(marked_ - 1) % kMarks];
    for (std::size_t back = 1; back < std::min(marked_, kMarks); ++back) {
        const double lag = newest - marks_[(marked_ - 1 - back) % kMarks];
        if (lag >= kLikenessDistanceSeconds * rate_.hz) return likeness_at(newest, lag);
    }
    return std::nullopt;
}

// The best products near a lag: marks follow the strongest part of a period, and the whole of it
// may fit best a little beside.
std::optional<Likeness> CycleReader::likeness_at(double mark, double lag) const noexcept
{
    const auto length = static_cast<std::size_t>(period_);
    const auto reach = static_cast<std::int64_t>(2.0 + kFineSearchPeriods * period_);
    const auto first = static_cast<std::int64_t>(mark - 0.5 * period_);
    const auto nearest = static_cast<std::int64_t>(std::llround(lag));
    if (first < nearest + reach + 1) return std::nullopt;
    const float* a = samples_.data() + first;
    double left = product(a, a - (nearest - reach - 1), length);
    double middle = product(a, a - (nearest - reach), length);
    double best = middle;
    std::int64_t best_lag = nearest;
    for (std::int64_t l = nearest - reach; l <= nearest + reach; ++l) {
        const double right = product(a, a - (l + 1), length);
        if (middle >= left && middle > right && middle > best) {
            best = vertex_of(left, middle, right).height;
            best_lag = l;
        }
        left = middle;
        middle = right;
    }
    const float* b = a - best_lag;
    return Likeness{best, 0.5 * (product(a, a, length) + product(b, b, length))};
}

std::optional<Cycle> CycleReader::next() noexcept
{
    if (period_ <= 0.0) return std::nullopt;
    if (marked_ == 0 && !set_first_mark()) return std::nullopt;
    const double mark = marks_[(marked_ - 1) % kMarks];
    const double needed = (1.0 + kSearchPeriods + kStretchPeriods) * period_ + 2.0 * kLanes;
    if (mark + needed >= static_cast<double>(filled_)) return std::nullopt;
    if (mark < period_) {
        marked_ = 0;
        return std::nullopt;
    }
    take_stretch(mark);
    const auto match = match_stretch(mark);
    if (!match) {
        marked_ = 0;
        joined_ = false;
        return std::nullopt;
    }
    const Cycle cycle{.period = match->lag,
                      .amplitude =
                          std::sqrt(energy_about(mark + kAfterMarkPeriods * period_, period_)),
                      .likeness = likeness_of_last_period(),
                      .follows = joined_};
    marks_[marked_ % kMarks] = mark + match->lag;
    ++marked_;
    joined_ = true;
    return cycle;
}

}  // namespace holdwell
