#include "app/ui/frame.h"

#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {

FrameOutput draw_frame(const FrameInput& input)
{
    ImGui::SetNextWindowPos({0.0f, 0.0f});
    ImGui::SetNextWindowSize({input.width, input.height});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0.0f, 0.0f});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0.0f);
    constexpr auto kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                            ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBackground |
                            ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse;
    ImGui::Begin("Holdwell", nullptr, kFlags);
    Canvas canvas{{.fonts = input.fonts,
                   .palette = &palette_of(input.shade),
                   .scale = input.scale,
                   .window = {0.0f, 0.0f, input.width, input.height}}};
    draw_window(canvas, *input.view);
    ImGui::End();
    ImGui::PopStyleVar(2);
    canvas.seen.last_page = canvas.last_page;
    return {std::move(canvas.events), canvas.last_page, canvas.seen, canvas.placed()};
}

FontScale font_scale_of(int text_percent, double display_scale, float height)
{
    // In steps, so that dragging the window's edge does not build an atlas for every pixel.
    constexpr double kStep = 32.0;
    const double wanted = std::ceil(0.34 * static_cast<double>(height) / kStep) * kStep;
    return {.text = text_percent / 100.0,
            .display = display_scale,
            .digit_px = static_cast<int>(std::clamp(wanted, 96.0, 640.0))};
}

}  // namespace holdwell
