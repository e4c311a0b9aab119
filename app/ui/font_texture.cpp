#include "app/ui/font_texture.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <array>
#include <cstdint>

namespace holdwell {
namespace {

// OpenGL 3.3 (core) names them; the system's header may be that of 1.3.
constexpr GLint kOneByte = 0x8229;      // GL_R8
constexpr GLenum kSwizzle = 0x8E46;     // GL_TEXTURE_SWIZZLE_RGBA
constexpr GLint kClampToEdge = 0x812F;  // GL_CLAMP_TO_EDGE
constexpr GLint kAlwaysOne = GL_ONE;

}  // namespace

FontTexture::~FontTexture() { release(); }

void FontTexture::release()
{
    if (texture_ != 0) glDeleteTextures(1, &texture_);
    texture_ = 0;
}

void FontTexture::take(ImFontAtlas* atlas)
{
    release();
    unsigned char* pixels = nullptr;
    int width = 0;
    int height = 0;
    atlas->GetTexDataAsAlpha8(&pixels, &width, &height);
    glGenTextures(1, &texture_);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, kClampToEdge);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, kClampToEdge);
    // The one byte is read as how much of the letter's colour there is: white, and it as alpha.
    const std::array<GLint, 4> white_and_alpha{kAlwaysOne, kAlwaysOne, kAlwaysOne, GL_RED};
    glTexParameteriv(GL_TEXTURE_2D, kSwizzle, white_and_alpha.data());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, kOneByte, width, height, 0, GL_RED, GL_UNSIGNED_BYTE, pixels);
    atlas->SetTexID(ImTextureID(static_cast<std::intptr_t>(texture_)));
    atlas->ClearTexData();
}

}  // namespace holdwell
