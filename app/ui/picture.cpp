#include "app/ui/picture.h"

#include <fmt/format.h>
#include <png.h>

namespace holdwell {

Outcome write_png(const std::filesystem::path& path, const Renderer::Picture& picture)
{
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(picture.width);
    image.height = static_cast<png_uint_32>(picture.height);
    image.format = PNG_FORMAT_RGB;
    if (png_image_write_to_file(&image, path.c_str(), 0, picture.rgb.data(), 0, nullptr) == 0) {
        return Error{fmt::format("The picture could not be written to {}: {}.", path.string(),
                                 image.message)};
    }
    return Done{};
}

Outcome save_picture(const std::filesystem::path& path, const WindowView& view,
                     const PictureOptions& options)
{
    auto renderer = Renderer::open({.width = options.width,
                                    .height = options.height,
                                    .display_scale = options.display_scale,
                                    .visibility = RendererOptions::Visibility::shown});
    if (!renderer) return renderer.error();
    // The second frame knows the size that the display has granted.
    renderer.value()->draw(view);
    renderer.value()->show();
    renderer.value()->draw(view);
    return write_png(path, renderer.value()->picture());
}

}  // namespace holdwell
