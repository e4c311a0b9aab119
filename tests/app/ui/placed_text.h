#pragma once
// Whether the text of a frame can be read: all of it inside the window, none upon another.

#include <string>
#include <vector>

#include "app/ui/frame.h"

namespace holdwell::test {

inline std::string told(const PlacedText& t)
{
    return "'" + t.text + "' at " + std::to_string(t.box.x) + ", " + std::to_string(t.box.y) +
           ", " + std::to_string(t.box.w) + " x " + std::to_string(t.box.h);
}

inline bool overlap(const Box& a, const Box& b)
{
    // Lines of text are boxes with air in them: two pixels are nothing to see.
    constexpr float kTouch = 2.0f;
    return a.x + kTouch < b.right() && b.x + kTouch < a.right() && a.y + kTouch < b.bottom() &&
           b.y + kTouch < a.bottom();
}

inline std::vector<std::string> faults_in(const FrameOutput& output, float width, float height)
{
    std::vector<std::string> faults;
    for (std::size_t i = 0; i < output.placed.size(); ++i) {
        const PlacedText& t = output.placed[i];
        const bool is_inside = t.box.x >= -1.0f && t.box.y >= -1.0f &&
                               t.box.right() <= width + 1.0f && t.box.bottom() <= height + 1.0f;
        if (!is_inside) faults.push_back("outside: " + told(t));
        for (std::size_t j = 0; j < i; ++j) {
            if (overlap(t.box, output.placed[j].box)) {
                faults.push_back(told(t) + " upon " + told(output.placed[j]));
            }
        }
    }
    return faults;
}

}  // namespace holdwell::test
