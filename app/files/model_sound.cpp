#include "app/files/model_sound.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "app/files/flac_bytes.h"
#include "app/practice/flac_length.h"

namespace holdwell {

namespace {

constexpr const char* kBroken =
    "The recording is broken and cannot be played; record it anew, or leave the model out.";

// Empty when it can be played as it is.
std::string trouble_of(const ModelVoice& model)
{
    const auto sound = sound_of_flac(model.flac);
    const auto promised = flac_length(model.flac);
    if (!sound || !promised) return kBroken;
    const SampleRate rate = sound.value().sample_rate;
    if (rate < kLowestSampleRate || rate > kHighestSampleRate)
        return fmt::format("The recording has {:.0f} samples a second; it may have {:.0f} to "
                           "{:.0f}.",
                           rate.hz, kLowestSampleRate.hz, kHighestSampleRate.hz);
    const auto samples = static_cast<std::int64_t>(sound.value().samples.size());
    if (samples != samples_in(*promised, rate).value) return kBroken;
    const bool is_silent =
        std::ranges::all_of(sound.value().samples, [](float v) { return v == 0.0f; });
    return is_silent ? "The recording is silent; record it anew, or leave the model out."
                     : std::string{};
}

}  // namespace

std::vector<Fault> faults_of_sound(const Plan& plan)
{
    std::vector<Fault> faults;
    for (std::size_t i = 0; i < plan.models.size(); ++i) {
        std::string trouble = trouble_of(plan.models[i]);
        if (!trouble.empty())
            faults.push_back({fmt::format("models[{}].flac_base64", i), std::move(trouble)});
    }
    return faults;
}

}  // namespace holdwell
