#include "dsp/spectrum.h"

#include <aubio/aubio.h>

namespace holdwell {

struct RealFft::Plan {
    explicit Plan(std::size_t n) : size{n}, fft{new_aubio_fft(static_cast<uint_t>(n))} {}
    Plan(const Plan&) = delete;
    Plan& operator=(const Plan&) = delete;
    ~Plan() { del_aubio_fft(fft); }

    std::size_t size;
    aubio_fft_t* fft;
};

namespace {

// aubio only reads through the vectors that it is given as input, but takes them as mutable.
fvec_t view_of(std::span<const float> x)
{
    return {static_cast<uint_t>(x.size()), const_cast<float*>(x.data())};
}

}  // namespace

RealFft::RealFft(std::size_t size) : plan_{std::make_unique<Plan>(size)} {}
RealFft::~RealFft() = default;
RealFft::RealFft(RealFft&&) noexcept = default;
RealFft& RealFft::operator=(RealFft&&) noexcept = default;

std::size_t RealFft::size() const noexcept { return plan_->size; }

void RealFft::forward(std::span<const float> x, std::span<float> half_complex) noexcept
{
    const fvec_t in = view_of(x);
    fvec_t out = view_of(half_complex);
    aubio_fft_do_complex(plan_->fft, &in, &out);
}

}  // namespace holdwell
