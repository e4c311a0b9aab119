#include "dsp/mains_hum.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

using Complex = std::complex<double>;
constexpr double kTwoPi = 2.0 * std::numbers::pi;

// A block is a whole number of periods of either mains: 5 of 50 Hz, 6 of 60 Hz.
constexpr Seconds kBlock{100ms};
constexpr std::array kMains{Hertz{50.0}, Hertz{60.0}};
constexpr double kHighestShareOfRate = 0.45;
constexpr double kHighestHz = 3600.0;
constexpr Hertz kFarthest{
    0.5};  // grids keep within 0.2 Hz of the nominal frequency, by common practice

// Chosen by us.
constexpr double kExplained = 0.9;       // of the energy, for a sound to be the hum
constexpr std::size_t kFirstLines = 8;   // looked at first: most rooms have no hum
constexpr double kFirstExplained = 0.5;  // by them
constexpr double kOffMultiples = 0.05;   // of the power, in lines that are no multiple of a prime
constexpr int kRounds = 2;               // of correcting the frequency
constexpr double kFastest = 0.5;         // share of a lag that is made good at once, when sure
constexpr double kHeardAtAll = 0.05;     // share of hum in what is heard, to be judged at all
constexpr double kStillFound = 0.5;
constexpr double kPaceOfFound = 0.2;  // a block
// A voice at a multiple of the mains' frequency has every line at multiples of one of these.
constexpr std::array<std::size_t, 8> kPrimes{2, 3, 5, 7, 11, 13, 17, 19};

// sum x[i] exp(j w (n - i)) for up to kLanes frequencies w at once: G. Goertzel, Am. Math. Monthly
// 65(1), 34-35, 1958.
HOLDWELL_WIDE std::array<Complex, kLanes> sums_of(std::span<const float> x,
                                                  const std::array<double, kLanes>& w)
{
    std::array<double, kLanes> twice_cos;
    for (std::size_t j = 0; j < kLanes; ++j) twice_cos[j] = 2.0 * std::cos(w[j]);
    std::array<double, kLanes> last{};
    std::array<double, kLanes> before{};
    for (const float v : x) {
        const double sample = static_cast<double>(v);
        for (std::size_t j = 0; j < kLanes; ++j) {
            const double now = sample + twice_cos[j] * last[j] - before[j];
            before[j] = last[j];
            last[j] = now;
        }
    }
    std::array<Complex, kLanes> sums;
    for (std::size_t j = 0; j < kLanes; ++j) {
        sums[j] = std::polar(1.0, w[j]) * last[j] - before[j];
    }
    return sums;
}

}  // namespace

MainsHum::MainsHum(SampleRate rate)
    : rate_hz_{rate.hz}, block_length_{static_cast<std::size_t>(samples_in(kBlock, rate).value)},
      recent_(2 * block_length_), table_(kTablePoints + 3)
{
}

void MainsHum::reset() noexcept
{
    heard_ = 0;
    known_ = false;
    block_ = {};
}

std::optional<double> MainsHum::rest() const noexcept
{
    if (!known_) return std::nullopt;
    return rest_;
}

// Cubic interpolation (Catmull-Rom) in the table.
MainsHum::Wave MainsHum::wave_at(double phase) const noexcept
{
    const double at = phase * static_cast<double>(kTablePoints);
    const auto p = std::min(static_cast<std::size_t>(at), kTablePoints - 1);
    const double u = at - static_cast<double>(p);
    const auto y = [&](std::size_t i) { return static_cast<double>(table_[p + i]); };
    const double c1 = 0.5 * (y(2) - y(0));
    const double c2 = y(0) - 2.5 * y(1) + 2.0 * y(2) - 0.5 * y(3);
    const double c3 = 1.5 * (y(1) - y(2)) + 0.5 * (y(3) - y(0));
    return {y(1) + u * (c1 + u * (c2 + u * c3)),
            static_cast<double>(kTablePoints) * (c1 + u * (2.0 * c2 + 3.0 * u * c3))};
}

void MainsHum::push(std::span<float> x) noexcept
{
    for (float& sample : x) {
        if (block_.samples == 0) {  // a block begins: the older of the two gives way
            std::copy(recent_.begin() + static_cast<std::ptrdiff_t>(block_length_), recent_.end(),
                      recent_.begin());
        }
        recent_[block_length_ + block_.samples] = sample;
        const double heard = static_cast<double>(sample);
        block_.heard += heard * heard;
        if (known_) {
            const Wave hum = wave_at(phase_);
            const double rest = heard - hum.value;
            block_.hum += hum.value * hum.value;
            block_.both += heard * hum.value;
            block_.slope += hum.slope * hum.slope;
            block_.late += rest * hum.slope;
            sample = static_cast<float>(rest);
            phase_ += step();
            if (phase_ >= 1.0) phase_ -= 1.0;
        }
        if (++block_.samples == block_length_) end_block();
    }
}

void MainsHum::end_block() noexcept
{
    heard_ = std::min(heard_ + block_length_, recent_.size());
    if (known_) {
        const double left = block_.heard - 2.0 * block_.both + block_.hum;
        const double share = block_.heard > 0.0 ? 1.0 - left / block_.heard : 0.0;
        if (share >= kExplained)
            learn(f_);
        else
            follow(std::max(0.0, share));
    }
    if (!known_ && heard_ == recent_.size()) look_for_hum();
    block_ = {};
}

MainsHum::Series MainsHum::fit(Hertz f, std::size_t lines) const noexcept
{
    Series series;
    series.count = std::min(lines, kMostLines);
    const std::span<const float> all{recent_};
    const std::span<const float> older = all.first(block_length_);
    const std::span<const float> newer = all.last(block_length_);
    series.mean_square = mean_square(all);
    const double w1 = kTwoPi * f.value / rate_hz_;
    const auto length = static_cast<double>(block_length_);
    double drift = 0.0;
    double weights = 0.0;
    for (std::size_t first = 0; first < series.count; first += kLanes) {
        std::array<double, kLanes> w;
        for (std::size_t j = 0; j < kLanes; ++j) w[j] = w1 * static_cast<double>(first + j + 1);
        const std::array<Complex, kLanes> a = sums_of(older, w);
        const std::array<Complex, kLanes> b = sums_of(newer, w);
        for (std::size_t j = 0; j < kLanes && first + j < series.count; ++j) {
            const double k = static_cast<double>(first + j + 1);
            const Complex early = a[j] * std::polar(1.0, w[j] * length);
            const Complex sum = (early + b[j]) * std::polar(1.0, -kTwoPi * k * phase_);
            series.line[first + j] = sum / length;  // 2 / (2 length)
            series.explained += 0.5 * std::norm(series.line[first + j]);
            const Complex turned = b[j] * std::conj(early);
            drift += k * turned.imag();
            weights += k * k * std::abs(turned);
        }
    }
    // From the middle of one block to that of the next a line turns by 2 pi k drift kBlock.
    if (weights > 0.0) series.drift = {drift / weights / kTwoPi / kBlock.count()};
    return series;
}

void MainsHum::look_for_hum() noexcept
{
    phase_ = 0.0;
    for (const Hertz mains : kMains) {
        const Series few = fit(mains, kFirstLines);
        if (few.mean_square > 0.0 && few.explained >= kFirstExplained * few.mean_square) {
            nominal_ = mains;
            learn(mains);
        }
        if (known_) return;
    }
}

void MainsHum::correct(Hertz drift) noexcept
{
    f_.value = std::clamp(f_.value + drift.value, nominal_.value - kFarthest.value,
                          nominal_.value + kFarthest.value);
}

void MainsHum::learn(Hertz guess) noexcept
{
    const double highest = std::min(kHighestHz, kHighestShareOfRate * rate_hz_);
    const auto lines = static_cast<std::size_t>(highest / nominal_.value);
    f_ = guess;
    Series series = fit(f_, lines);
    for (int round = 0; round < kRounds; ++round) {
        correct(series.drift);
        series = fit(f_, lines);
    }
    if (series.explained < kExplained * series.mean_square) return;
    for (const std::size_t prime : kPrimes) {
        double off = 0.0;
        for (std::size_t k = 1; k <= series.count; ++k) {
            if (k % prime != 0) off += 0.5 * std::norm(series.line[k - 1]);
        }
        if (off < kOffMultiples * series.explained) return;
    }
    keep(series);
}

void MainsHum::keep(const Series& series) noexcept
{
    for (std::size_t p = 0; p < kTablePoints; ++p) {
        const double turn = static_cast<double>(p) / static_cast<double>(kTablePoints);
        const Complex step = std::polar(1.0, kTwoPi * turn);
        Complex at = step;
        double sum = 0.0;
        for (std::size_t k = 0; k < series.count; ++k) {
            sum += series.line[k].real() * at.real() - series.line[k].imag() * at.imag();
            at = {at.real() * step.real() - at.imag() * step.imag(),
                  at.real() * step.imag() + at.imag() * step.real()};
        }
        table_[p + 1] = static_cast<float>(sum);
    }
    table_[0] = table_[kTablePoints];
    table_[kTablePoints + 1] = table_[1];
    table_[kTablePoints + 2] = table_[2];
    rest_ = std::max(series.mean_square - series.explained, 1e-6 * series.explained);
    found_ = 1.0;
    known_ = true;
}

// share: of the hum in what was heard. The smaller, the more of a lag is the voice's doing.
void MainsHum::follow(double share) noexcept
{
    if (block_.hum < kHeardAtAll * block_.heard || !(block_.slope > 0.0)) return;
    found_ += kPaceOfFound * (block_.both / block_.hum - found_);
    if (found_ < kStillFound) {
        known_ = false;
        heard_ = 0;
        return;
    }
    const double pace = kFastest * share;
    const double ahead = block_.late / block_.slope;  // turns by which the hum is ahead of the wave
    phase_ += pace * ahead;
    phase_ -= std::floor(phase_);
    f_.value += 0.25 * pace * pace * ahead / kBlock.count();
    f_.value =
        std::clamp(f_.value, nominal_.value - kFarthest.value, nominal_.value + kFarthest.value);
}

}  // namespace holdwell
