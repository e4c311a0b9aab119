#pragma once
// From what the window knows to what it shows: one pure function a screen.

#include "app/ui/model.h"
#include "app/ui/views.h"

namespace holdwell {

WindowView present(const Model& model);

TextView present_welcome();
TextView present_help();
SoundCheckView present_sound_check(const Model& model);
PracticeView present_practice(const Model& model);
// The same with the guide's words; there is a guide.
PracticeView as_guided(PracticeView view, const Model& model);
ChoicesView present_choices(const Model& model);
NoMicrophoneView present_no_microphone(const Model& model);
DetailsView present_details(const Model& model);
ToleranceView present_tolerance(const Model& model);

// Parts that more than one screen shows.
RibbonView ribbon_of(const Model& model);
GlideView glide_picture_of(const Model& model);
MeterView meter_of(const Model& model);
// The room as the sound check or, before one, the microphone so far tells it.
std::optional<RoomVerdict> room_of(const Model& model);
// Something that the person should know and can act upon; empty when all is well.
std::string notice_of(const Model& model);
std::optional<Seconds> longest_yet(const Model& model);
// Strokes of a contour in slots: broken where the voice paused, smoothed for the eye over about a
// tenth of a second (an ear takes as long to judge a pitch); heights in bands, reach kReach.
struct SlotScale {
    Seconds slot{10ms};
    Cents band{100.0};
    int octaves_off{0};
};
std::vector<InkStroke> strokes_of(const std::vector<std::optional<Cents>>& slots,
                                  const SlotScale& scale);

}  // namespace holdwell
