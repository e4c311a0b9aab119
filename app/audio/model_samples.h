#pragma once
// A recorded voice as the loudspeaker is to play it: at its rate, as loud as the reference tone,
// and with soft ends.
//
// Resampled by a windowed sinc: 16 zero crossings to each side under a Hann window, cut off at the
// lower of the two rates. Sums in double. Allocates the result; no state.

#include <vector>

#include "app/engine/sound_keeper.h"

namespace holdwell {

std::vector<float> model_samples(const SoundClip& clip, SampleRate rate);

}  // namespace holdwell
