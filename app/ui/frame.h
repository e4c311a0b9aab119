#pragma once
// One frame of the window, without a window: the tests, the benchmarks and the shell all draw with
// it, between ImGui::NewFrame and ImGui::Render.

#include <vector>

#include "app/ui/canvas.h"
#include "app/ui/views.h"

namespace holdwell {

struct FrameInput {
    const WindowView* view{nullptr};
    Shade shade{Shade::light};
    const FontSet* fonts{nullptr};
    FontScale scale;
    float width{1280.0f};  // pixels
    float height{800.0f};
};
struct FrameOutput {
    std::vector<Event> events;
    int last_page{0};
    Seen seen;
    std::vector<PlacedText> placed;
};
FrameOutput draw_frame(const FrameInput& input);

// The scale of the type for a window of this height, in pixels.
FontScale font_scale_of(int text_percent, double display_scale, float height);

}  // namespace holdwell
