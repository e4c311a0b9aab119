#include <map>
#include <mutex>

#include "dsp/frame_analyzer.h"
#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

namespace {

using Analyzer = std::unique_ptr<FrameAnalyzer>;

// An analyzer's tables take longer to build than a short file takes to analyse, so analyzers are
// lent, reset, and given back.
class AnalyzerPool {
public:
    Analyzer take(SampleRate rate)
    {
        const std::lock_guard lock{mutex_};
        auto& idle = idle_[rate.hz];
        if (idle.empty())
            return std::make_unique<FrameAnalyzer>(AnalysisConfig{.sample_rate = rate});
        Analyzer one = std::move(idle.back());
        idle.pop_back();
        one->reset();
        return one;
    }
    void give_back(SampleRate rate, Analyzer one)
    {
        const std::lock_guard lock{mutex_};
        idle_[rate.hz].push_back(std::move(one));
    }

private:
    std::mutex mutex_;
    std::map<double, std::vector<Analyzer>> idle_;
};

AnalyzerPool& pool()
{
    static AnalyzerPool p;
    return p;
}

class OurMethod final : public PitchMethod {
public:
    explicit OurMethod(SampleRate rate) : rate_{rate}, analyzer_{pool().take(rate)} {}
    ~OurMethod() override { pool().give_back(rate_, std::move(analyzer_)); }

    test::Estimate push(std::span<const float> hop) override
    {
        const FrameReading r = analyzer_->push(hop);
        return {time_of(r.centre, rate_), r.f0};
    }

private:
    SampleRate rate_;
    Analyzer analyzer_;
};

}  // namespace

std::unique_ptr<PitchMethod> make_our_method(SampleRate rate)
{
    return std::make_unique<OurMethod>(rate);
}

}  // namespace holdwell::bench
