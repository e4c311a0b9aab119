#pragma once
// The letters on the graphics side: one byte for each of their pixels, where the library's own way
// takes four, and four more of them in our memory. From 1.92 on it keeps only letters that came up,
// and this is not needed.

struct ImFontAtlas;

namespace holdwell {

class FontTexture {
public:
    FontTexture() = default;
    ~FontTexture();  // OpenGL must still be there
    FontTexture(const FontTexture&) = delete;
    FontTexture& operator=(const FontTexture&) = delete;

    // Of a built atlas, whose own pixels are given back: they are needed no more.
    void take(ImFontAtlas* atlas);
    void release();

private:
    unsigned int texture_{0};  // 0: none
};

}  // namespace holdwell
