#pragma once
// A picture of the window made by the program itself, as a PNG file: what a view looks like,
// without anybody sitting in front of it. Needs a display.

#include <filesystem>

#include "app/base/result.h"
#include "app/ui/renderer.h"

namespace holdwell {

Outcome write_png(const std::filesystem::path& path, const Renderer::Picture& picture);

struct PictureOptions {
    int width{1280};  // pixels
    int height{800};
    double display_scale{1.0};
};
Outcome save_picture(const std::filesystem::path& path, const WindowView& view,
                     const PictureOptions& options);

}  // namespace holdwell
