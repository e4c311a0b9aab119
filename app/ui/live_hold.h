#pragma once
// Keeps the hold on the screen up to date, one frame at a time: its ink, and how it lies.

#include "app/ui/model.h"

namespace holdwell {

// One frame later; `rate` is the stream's. The ink of an earlier hold stays until a new one begins.
HoldOnScreen after_frame(HoldOnScreen hold, const FrameHeard& frame, const Model& model);
GlideOnScreen after_frame(GlideOnScreen glide, const FrameHeard& frame);
ToleranceTrace after_frame(ToleranceTrace trace, const FrameHeard& frame, const Model& model);

// Steps of the meter lit at this level: five decibels each from -60 dBFS, with a decibel and a half
// of inertia so that a steady room does not flicker.
int meter_steps(Dbfs level, int lit_before);

}  // namespace holdwell
