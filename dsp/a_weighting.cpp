#include "dsp/a_weighting.h"

#include <aubio/aubio.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace holdwell {

namespace {

// The rates for which aubio has coefficients (temporal/a_weighting.h); it complains on the terminal
// about any other. Below 32 kHz the upper half of the curve is missing.
constexpr std::array kRates{32'000, 44'100, 48'000, 88'200, 96'000, 192'000};
constexpr std::size_t kPiece = 256;  // filtered in place, samples

}  // namespace

struct AWeighting::Filter {
    explicit Filter(uint_t rate) : aubio{new_aubio_filter_a_weighting(rate)} {}
    Filter(const Filter&) = delete;
    Filter& operator=(const Filter&) = delete;
    ~Filter() { del_aubio_filter(aubio); }

    aubio_filter_t* aubio;
    std::array<float, kPiece> piece{};
};

AWeighting::AWeighting(std::unique_ptr<Filter> filter) : filter_{std::move(filter)} {}
AWeighting::~AWeighting() = default;
AWeighting::AWeighting(AWeighting&&) noexcept = default;
AWeighting& AWeighting::operator=(AWeighting&&) noexcept = default;

std::optional<AWeighting> AWeighting::at(SampleRate rate)
{
    const auto whole = static_cast<int>(std::lround(rate.hz));
    if (std::ranges::find(kRates, whole) == kRates.end()) return std::nullopt;
    return AWeighting{std::make_unique<Filter>(static_cast<uint_t>(whole))};
}

double AWeighting::push(std::span<const float> samples) noexcept
{
    if (samples.empty()) return 0.0;
    Filter& f = *filter_;
    double sum = 0.0;
    for (std::span<const float> rest = samples; !rest.empty();) {
        const std::size_t count = std::min(rest.size(), kPiece);
        std::transform(rest.begin(), rest.begin() + static_cast<std::ptrdiff_t>(count),
                       f.piece.begin(), [](float x) { return std::isfinite(x) ? x : 0.0f; });
        fvec_t piece{static_cast<uint_t>(count), f.piece.data()};
        aubio_filter_do(f.aubio, &piece);
        for (std::size_t i = 0; i < count; ++i) {
            sum += static_cast<double>(f.piece[i]) * static_cast<double>(f.piece[i]);
        }
        rest = rest.subspan(count);
    }
    return sum / static_cast<double>(samples.size());
}

}  // namespace holdwell
