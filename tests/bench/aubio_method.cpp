#include <aubio/aubio.h>

#include <algorithm>

#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

namespace {

struct Closed {
    void operator()(aubio_pitch_t* p) const { del_aubio_pitch(p); }
    void operator()(fvec_t* v) const { del_fvec(v); }
};

class AubioMethod final : public PitchMethod {
public:
    AubioMethod(const char* name, SampleRate rate)
        : rate_{rate}, in_{new_fvec(static_cast<uint_t>(hop_length(rate).value))},
          out_{new_fvec(1)}, pitch_{new_aubio_pitch(name, 2048, in_->length,
                                                    static_cast<uint_t>(rate.hz))}
    {
    }

    test::Estimate push(std::span<const float> hop) override
    {
        std::ranges::copy(hop, in_->data);
        aubio_pitch_do(pitch_.get(), in_.get(), out_.get());
        heard_ += in_->length;
        const double f0_hz = static_cast<double>(out_->data[0]);
        test::Estimate e{time_of(SampleIndex{heard_}, rate_), std::nullopt};
        if (f0_hz > 0.0) e.f0 = Hertz{f0_hz};
        return e;
    }

private:
    SampleRate rate_;
    std::unique_ptr<fvec_t, Closed> in_;
    std::unique_ptr<fvec_t, Closed> out_;
    std::unique_ptr<aubio_pitch_t, Closed> pitch_;
    std::int64_t heard_{0};
};

}  // namespace

template <int which>
std::unique_ptr<PitchMethod> make_aubio_method(SampleRate rate)
{
    return std::make_unique<AubioMethod>(kAubioNames[which], rate);
}
template std::unique_ptr<PitchMethod> make_aubio_method<0>(SampleRate);
template std::unique_ptr<PitchMethod> make_aubio_method<1>(SampleRate);
template std::unique_ptr<PitchMethod> make_aubio_method<2>(SampleRate);
template std::unique_ptr<PitchMethod> make_aubio_method<3>(SampleRate);
template std::unique_ptr<PitchMethod> make_aubio_method<4>(SampleRate);
template std::unique_ptr<PitchMethod> make_aubio_method<5>(SampleRate);

}  // namespace holdwell::bench
