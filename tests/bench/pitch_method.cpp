#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

SampleCount hop_length(SampleRate rate) { return samples_in(10ms, rate); }

const std::vector<MethodKind>& method_kinds()
{
    static const std::vector<MethodKind> kinds{
        {"holdwell", make_our_method},          {kAubioNames[0], make_aubio_method<0>},
        {kAubioNames[1], make_aubio_method<1>}, {kAubioNames[2], make_aubio_method<2>},
        {kAubioNames[3], make_aubio_method<3>}, {kAubioNames[4], make_aubio_method<4>},
        {kAubioNames[5], make_aubio_method<5>},
    };
    return kinds;
}

std::vector<test::Estimate> estimates_of(const MethodKind& kind, std::span<const float> samples,
                                         SampleRate rate)
{
    const auto method = kind.make(rate);
    const auto hop = static_cast<std::size_t>(hop_length(rate).value);
    std::vector<test::Estimate> course;
    for (std::size_t at = 0; at + hop <= samples.size(); at += hop)
        course.push_back(method->push(samples.subspan(at, hop)));
    return course;
}

}  // namespace holdwell::bench
