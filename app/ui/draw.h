#pragma once
// The screens: each draws its view and notes what was clicked. No choice of words is made here.

#include "app/ui/canvas.h"
#include "app/ui/views.h"

namespace holdwell {

// The whole window, ground included.
void draw_window(Canvas& canvas, const WindowView& view);

void draw_text_screen(Canvas& canvas, const TextView& view, int page);
void draw_sound_check(Canvas& canvas, const SoundCheckView& view);
void draw_practice(Canvas& canvas, const PracticeView& view);
void draw_choices(Canvas& canvas, const ChoicesView& view, int page);
void draw_no_microphone(Canvas& canvas, const NoMicrophoneView& view);
void draw_details(Canvas& canvas, const DetailsView& view, int page);
void draw_tolerance(Canvas& canvas, const ToleranceView& view);

// ---- pictures ------------------------------------------------------------------------------

void draw_ribbon(Canvas& canvas, const RibbonView& view, Box box);
void draw_glide(Canvas& canvas, const GlideView& view, Box box);

// ---- parts ---------------------------------------------------------------------------------

// The part of the window inside its margins.
Box inner_of(const Canvas& canvas);
// Title, and a rule's space below it.
void draw_title(Canvas& canvas, Box& rest, const std::string& title);
// Keys in a row at the bottom of the rest, the meter (if it has words) at their right; as many rows
// as they need, the last keys but two left out where more than `most_rows` would be needed.
struct FooterStyle {
    int most_rows{2};
    bool first_is_main{false};  // the first key as a filled button
};
void draw_footer(Canvas& canvas, Box& rest, const std::vector<KeyHint>& keys,
                 const FooterStyle& style);
void draw_footer(Canvas& canvas, Box& rest, const std::vector<KeyHint>& keys,
                 const MeterView& meter);
void draw_meter(Canvas& canvas, const Box& box, const MeterView& meter);
float meter_width(const Canvas& canvas);
// A key and its word as a button; gives its width.
enum class ButtonLook { plain, framed, filled };
float button_width(const Canvas& canvas, const KeyHint& hint, ButtonLook look);
void draw_button(Canvas& canvas, const Box& box, const KeyHint& hint, ButtonLook look);
float button_height(const Canvas& canvas);

// Content that may be taller than its place: scrolled by pages.
class Scroller {
public:
    // `box` is where the content is seen, `content_height` how tall it is in all.
    Scroller(Canvas& canvas, const Box& box, float content_height, int page);
    ~Scroller();
    Scroller(const Scroller&) = delete;
    Scroller& operator=(const Scroller&) = delete;
    // Where the content begins now, and its width.
    Box content() const { return content_; }

private:
    Canvas& canvas_;
    Box box_;
    Box content_;
    float left_below_{0.0f};
};

}  // namespace holdwell
