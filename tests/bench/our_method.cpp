#include <map>

#include "dsp/frame_analyzer.h"
#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

namespace {

// The analyzer's tables take longer to build than a short file takes to analyse, so each thread
// keeps one analyzer for each rate and resets it.
FrameAnalyzer& fresh_analyzer(SampleRate rate)
{
    thread_local std::map<double, FrameAnalyzer> kept;
    auto place = kept.find(rate.hz);
    if (place == kept.end())
        place = kept.emplace(rate.hz, FrameAnalyzer{{.sample_rate = rate}}).first;
    place->second.reset();
    return place->second;
}

class OurMethod final : public PitchMethod {
public:
    explicit OurMethod(SampleRate rate) : rate_{rate}, analyzer_{fresh_analyzer(rate)} {}

    test::Estimate push(std::span<const float> hop) override
    {
        const FrameReading r = analyzer_.push(hop);
        return {time_of(r.centre, rate_), r.f0};
    }

private:
    SampleRate rate_;
    FrameAnalyzer& analyzer_;
};

}  // namespace

std::unique_ptr<PitchMethod> make_our_method(SampleRate rate)
{
    return std::make_unique<OurMethod>(rate);
}

}  // namespace holdwell::bench
