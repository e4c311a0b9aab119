// How well the microphone can be trusted: another part of the view model.

#include "app/ui/view_model.h"

namespace holdwell {

void ViewModel::hear(const DrillRefused& refused) { model_.ear.refused = refused.sentence; }

void ViewModel::hear(const ProcessingChanged& changed) { model_.ear.processing = changed.heard; }

}  // namespace holdwell
