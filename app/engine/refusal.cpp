#include "app/engine/refusal.h"

#include <cmath>

#include "dsp/frication.h"

namespace holdwell {

std::optional<std::string> refusal_of(const Drill& drill, SampleRate rate)
{
    const bool is_z = drill.kind == DrillKind::z_hold;
    if ((drill.kind != DrillKind::s_hold && !is_z) || hears_sibilants(rate)) return std::nullopt;
    return std::string{is_z ? "A /z/" : "An /s/"} +
           " cannot be timed with this microphone: it sends " +
           std::to_string(std::lround(rate.hz)) +
           " samples a second, and 44100 are needed. Wireless headsets often send so few: please "
           "choose another microphone.";
}

}  // namespace holdwell
