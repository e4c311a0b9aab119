#include "dsp/frame_analyzer.h"
#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

namespace {

class OurMethod final : public PitchMethod {
public:
    explicit OurMethod(SampleRate rate) : rate_{rate}, analyzer_{{.sample_rate = rate}} {}

    test::Estimate push(std::span<const float> hop) override
    {
        const FrameReading r = analyzer_.push(hop);
        return {time_of(r.centre, rate_), r.f0};
    }

private:
    SampleRate rate_;
    FrameAnalyzer analyzer_;
};

}  // namespace

std::unique_ptr<PitchMethod> make_our_method(SampleRate rate)
{
    return std::make_unique<OurMethod>(rate);
}

}  // namespace holdwell::bench
