#pragma once
// The screens: each draws its view and notes what was clicked. No choice of words is made here.

#include <optional>
#include <vector>

#include "app/ui/canvas.h"
#include "app/ui/views.h"

namespace holdwell {

// The whole window, ground included.
void draw_window(Canvas& canvas, const WindowView& view);

void draw_text_screen(Canvas& canvas, const TextView& view, int page);
void draw_sound_check(Canvas& canvas, const SoundCheckView& view, int page);
void draw_practice(Canvas& canvas, const PracticeView& view);
void draw_choices(Canvas& canvas, const ChoicesView& view);
void draw_no_microphone(Canvas& canvas, const NoMicrophoneView& view, int page);
void draw_details(Canvas& canvas, const DetailsView& view, int page);
void draw_tolerance(Canvas& canvas, const ToleranceView& view);
// `where`: which part of it is to be seen.
void draw_page(Canvas& canvas, const PageView& view, const WindowView& where);

// ---- pictures ------------------------------------------------------------------------------

void draw_ribbon(Canvas& canvas, const RibbonView& view, Box box);
void draw_glide(Canvas& canvas, const GlideView& view, Box box);

// ---- parts ---------------------------------------------------------------------------------

// The part of the window inside its margins.
Box inner_of(const Canvas& canvas);
// Title, and a rule's space below it.
void draw_title(Canvas& canvas, Box& rest, const std::string& title);
// Keys in rows, as many as fit; where not all do, the last two (help, leave) stay longest.
struct KeyRows {
    std::vector<std::vector<KeyHint>> rows;
    float height{0.0f};
};
KeyRows key_rows(const Canvas& canvas, std::vector<KeyHint> keys, float width,
                 std::size_t most_rows);
void draw_key_rows(Canvas& canvas, Box box, const KeyRows& rows);
// A rule and the keys at the bottom of the rest, the first as a filled button.
void draw_footer(Canvas& canvas, Box& rest, const std::vector<KeyHint>& keys);

// The practice screen's: keys at the left, the meter at the right or in a row above.
struct MeterFooter {
    KeyRows keys;
    bool meter_is_beside{true};
    float meter_width{0.0f};
    std::string words;  // empty where there is no room for them
    float height{0.0f};
};
enum class FooterSize { full, one_row };
MeterFooter plan_footer(const Canvas& canvas, const std::vector<KeyHint>& keys,
                        const MeterView& meter, FooterSize size);
void draw_footer(Canvas& canvas, Box& rest, const MeterFooter& plan, const MeterView& meter);
void draw_meter(Canvas& canvas, const Box& box, const MeterView& meter);
float meter_width(const Canvas& canvas);
// A key and its word as a button; gives its width.
enum class ButtonLook { plain, framed, filled };
float button_width(const Canvas& canvas, const KeyHint& hint, ButtonLook look);
void draw_button(Canvas& canvas, const Box& box, const KeyHint& hint, ButtonLook look);
float button_height(const Canvas& canvas);

// Content that may be taller than its place: scrolled by pages, and so that `sight` (from the top
// of the content) is seen.
struct Sight {
    float top{0.0f};
    float bottom{0.0f};
};
// What is seen whole or not at all, as far as it fits.
struct Piece {
    Sight at;
    bool is_heading{false};  // of the next one
};
class Scroller {
public:
    struct Content {
        float height{0.0f};  // of all of it
        int page{0};
        std::optional<Sight> sight;   // instead of the page
        std::vector<Piece> pieces{};  // none: it may be cut anywhere between lines
    };
    Scroller(Canvas& canvas, const Box& box, const Content& content);
    ~Scroller();
    Scroller(const Scroller&) = delete;
    Scroller& operator=(const Scroller&) = delete;
    // Where the content begins now, and its size.
    Box content() const { return content_; }
    // The part of it that is seen.
    Sight window() const { return {box_.y - content_.y, box_.bottom() - content_.y}; }

private:
    Canvas& canvas_;
    Box box_;
    Box content_;
    bool is_more_below_{false};
};

// Draws what `draw_content(Box) -> height used` draws, scrolled where it is taller than the box.
template <typename DrawContent>
void draw_scrolled(Canvas& canvas, const Box& box, int page, DrawContent draw_content)
{
    canvas.set_ink(Canvas::Ink::dry);
    const float height = draw_content(Box{box.x, box.y, box.w, 1e6f});
    canvas.set_ink(Canvas::Ink::wet);
    const Scroller scroller{
        canvas, box, {.height = height, .page = page, .sight = {}, .pieces = {}}};
    draw_content(scroller.content());
}

}  // namespace holdwell
