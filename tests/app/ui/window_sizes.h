#pragma once
// Windows and sizes of the text, %, at which everything must be readable.

namespace holdwell::test {

struct WindowSize {
    float width, height;
    int text;
};
inline constexpr WindowSize kWindowSizes[] = {{1280, 800, 100}, {1280, 800, 250},
                                              {800, 600, 100},  {800, 600, 250},
                                              {480, 360, 150},  {1920, 1080, 200}};

}  // namespace holdwell::test
