#pragma once
// An ImGui context without any back end, with the window's own type in it: what is drawn is
// measured and clicked, not seen.

#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

#include "app/ui/frame.h"

namespace holdwell::test {

class Headless {
public:
    Headless(float width, float height, int text_percent, double display_scale = 1.0)
        : width_{width}, height_{height}, scale_{font_scale_of(text_percent, display_scale, height)}
    {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {width, height};
        io.DeltaTime = 1.0f / 60.0f;
        const auto paths = find_fonts();
        REQUIRE(paths);
        fonts_ = build_fonts(io.Fonts, paths.value(), scale_);
#ifdef IMGUI_HAS_TEXTURES
        io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
#else
        io.Fonts->SetTexID(ImTextureID(std::intptr_t{1}));
#endif
    }
    ~Headless() { ImGui::DestroyContext(); }
    Headless(const Headless&) = delete;
    Headless& operator=(const Headless&) = delete;

    FrameOutput draw(const WindowView& view)
    {
        ImGui::NewFrame();
        FrameOutput output = draw_frame({.view = &view,
                                         .shade = Shade::light,
                                         .fonts = &fonts_,
                                         .scale = scale_,
                                         .width = width_,
                                         .height = height_});
        ImGui::Render();
        return output;
    }

    // A click in the middle of the text, as a person makes it.
    std::vector<Event> click(const WindowView& view, const std::string& text)
    {
        const FrameOutput before = draw(view);
        const auto found = std::ranges::find(before.placed, text, &PlacedText::text);
        REQUIRE_MESSAGE(found != before.placed.end(), text);
        ImGuiIO& io = ImGui::GetIO();
        io.MousePos = {found->box.x + found->box.w / 2, found->box.y + found->box.h / 2};
        draw(view);
        io.MouseDown[0] = true;
        draw(view);
        io.MouseDown[0] = false;
        return draw(view).events;
    }

private:
    float width_;
    float height_;
    FontScale scale_;
    FontSet fonts_;
};

}  // namespace holdwell::test
