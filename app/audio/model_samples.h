#pragma once
// A recorded voice as the loudspeaker is to play it: at its rate, as loud as the reference tone
// whatever the microphone's level was, and with soft ends.
//
// Loudness is the root mean square of what sounds: of the stretches of 50 ms that lie within 12 dB
// of the loudest but few, so that neither silence around the voice nor a knock makes it louder or
// softer. No sample is beyond kModelPeak.
//
// Resampled by a windowed sinc: 16 zero crossings to each side under a Hann window, cut off at the
// lower of the two rates; read from a table, so that 15 s take a fraction of the time that a
// loudspeaker is waited for. Allocates the result; no state.

#include <vector>

#include "app/engine/sound_keeper.h"

namespace holdwell {

inline constexpr float kModelPeak = 0.9f;  // of full scale

std::vector<float> model_samples(const SoundClip& clip, SampleRate rate);

}  // namespace holdwell
