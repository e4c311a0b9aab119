#pragma once
// The therapist's two screens for the ear: the names of starts, and the level a meter reads.

#include "app/engine/sound_setup.h"
#include "app/ui/model.h"
#include "app/ui/views.h"

namespace holdwell {

DetailsView present_starts(const Model& model);
ChoicesView present_calibration(const Model& model);

// The microphone as it is now, and as the last sound check left it.
CheckedSetup setup_of(const Model& model);
// dB SPL only after a calibration of this microphone at this rate.
std::optional<SplCalibration> calibration_of(const Model& model);
// "62 dB SPL (C), at 30 cm"
std::string spl_words(const SplCalibration& calibration, Dbfs level);

}  // namespace holdwell
