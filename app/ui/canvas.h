#pragma once
// What the screens draw with: a palette, text by role, and places that can be clicked. Everything
// is in pixels of the window; `unit()` is one point of the layout.
//
// The canvas remembers where each text was put, so that a test can see whether any lies outside the
// window or upon another.

#include <imgui.h>

#include <string>
#include <string_view>
#include <vector>

#include "app/ui/fonts.h"
#include "app/ui/palette.h"
#include "app/ui/views.h"

namespace holdwell {

struct Box {
    float x{0}, y{0}, w{0}, h{0};
    float right() const { return x + w; }
    float bottom() const { return y + h; }
    // Cuts a slice off and gives it.
    Box cut_top(float height);
    Box cut_bottom(float height);
    Box cut_left(float width);
    Box cut_right(float width);
    Box inset(float by) const { return {x + by, y + by, w - 2 * by, h - 2 * by}; }
};

struct PlacedText {
    Box box;
    std::string text;
};

enum class Align { left, centre, right };
struct TextStyle {
    TextRole role{TextRole::body};
    Colour colour{};
    Align align{Align::left};
};

ImU32 packed(Colour c);
ImU32 packed(Colour c, double opacity);
Colour blend(Colour from, Colour to, double share);

class Canvas {
public:
    struct Setting {
        const FontSet* fonts{nullptr};
        const Palette* palette{nullptr};
        FontScale scale;
        Box window;
    };
    explicit Canvas(const Setting& setting);

    ImDrawList& list() const { return *list_; }
    const Palette& palette() const { return *setting_.palette; }
    Box window() const { return setting_.window; }
    float unit() const { return static_cast<float>(setting_.scale.display); }
    // Grows with the text as well: paddings and marks beside words.
    float em() const { return line_height(TextRole::body); }
    float line_height(TextRole role) const;
    // So few lines that what stands around the words must be small.
    bool is_tight() const { return setting_.window.h < 15.0f * em(); }

    ImVec2 size_of(TextRole role, std::string_view text, float wrap_width = 0.0f) const;
    // Wrapped to the box, from its top; gives the height used.
    float write(const Box& box, std::string_view text, const TextStyle& style);
    // On one line, vertically centred in the box; cut with an ellipsis where it is too long.
    void write_line(const Box& box, std::string_view text, const TextStyle& style);
    // Digits scaled down to fit the box, centred.
    void write_digits(const Box& box, std::string_view text);

    // True in the frame in which it is clicked.
    bool clickable(const std::string& id, const Box& box);
    bool is_hovered(const Box& box) const;

    void fill(const Box& box, Colour colour, float rounding = 0.0f) const;
    void dot(ImVec2 centre, float radius, Colour colour) const;
    // Its lower half.
    void half_dot(ImVec2 centre, float radius, Colour colour) const;
    void ring(ImVec2 centre, float radius, Colour colour) const;
    void frame(const Box& box, Colour colour, float rounding) const;
    void rule(float x0, float x1, float y) const;

    void push_clip(const Box& box);
    void pop_clip();
    // Dry, nothing is drawn, placed or clicked: only heights come back.
    enum class Ink { wet, dry };
    void set_ink(Ink ink) { ink_ = ink; }
    bool is_dry() const { return ink_ == Ink::dry; }

    const std::vector<PlacedText>& placed() const { return placed_; }

    std::vector<Event> events;  // what was clicked
    int last_page{0};           // pages that can be scrolled down
    Seen seen;                  // but for the last page

private:
    bool is_seen(const Box& line) const;
    std::string shortened(TextRole role, std::string_view text, float width) const;
    void place(const Box& box, std::string_view text);

    Setting setting_;
    ImDrawList* list_;
    std::vector<PlacedText> placed_;
    std::vector<Box> clips_;
    Ink ink_{Ink::wet};
};

}  // namespace holdwell
