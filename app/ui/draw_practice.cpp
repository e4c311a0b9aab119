// The practice screen. What matters most keeps its place when the window is small or the words are
// large: the line of words first, then the stopwatch, then the picture; the rest makes room.

#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

// What is shown, of the things that may be left out.
struct Fit {
    bool aim{true};
    bool facts{true};
    bool second{true};
    float least_picture_em{7.0f};
    float least_digits_em{5.0f};
};

float header_height(const Canvas& c, const PracticeView& v, const Fit& fit)
{
    const float first = 1.15f * c.line_height(TextRole::note);
    const bool two_lines = fit.aim || !v.note.empty();
    return two_lines && fit.aim ? first + 1.2f * c.em() : first;
}

float facts_height(const Canvas& c) { return 1.4f * c.em(); }

float words_height(const Canvas& c, const PracticeView& v, const Fit& fit, float width)
{
    float height = c.size_of(TextRole::line, v.line, width).y + 0.3f * c.em();
    // A second line may wrap as well; it always has a place, so that nothing jumps when it comes.
    if (fit.second) {
        height += std::max(c.size_of(TextRole::body, v.second, width).y, c.em()) + 0.3f * c.em();
    }
    return height;
}

float notice_height(const Canvas& c, const PracticeView& v, float width)
{
    if (v.notice.empty()) return 0.0f;
    return c.size_of(TextRole::body, v.notice, width - 2.0f * c.em()).y + 0.9f * c.em();
}

float least_height(const Canvas& c, const PracticeView& v, const Fit& fit, float width)
{
    return header_height(c, v, fit) + notice_height(c, v, width) + words_height(c, v, fit, width) +
           (fit.facts ? facts_height(c) : 0.0f) +
           (fit.least_picture_em + fit.least_digits_em) * 18.0f * c.unit();
}

Fit fit_of(const Canvas& c, const PracticeView& v, const Box& box)
{
    Fit fit;
    const auto fits = [&] { return least_height(c, v, fit, box.w) <= box.h; };
    if (fits()) return fit;
    fit.least_picture_em = 5.0f;
    fit.least_digits_em = 3.5f;
    if (fits()) return fit;
    fit.aim = false;
    if (fits()) return fit;
    fit.facts = false;
    if (fits()) return fit;
    fit.second = false;
    return fit;
}

void draw_header(Canvas& c, const PracticeView& v, const Fit& fit, Box box)
{
    const Palette& p = c.palette();
    const float note = c.size_of(TextRole::note, v.note).x + 2;
    const float hear = c.size_of(TextRole::body, v.hear.does).x + 2;
    Box right = box.cut_right(std::max(note, hear));
    box.cut_right(c.em());
    const float first = 1.15f * c.line_height(TextRole::note);
    if (!v.note.empty()) {
        if (c.clickable("hear", right)) c.events.push_back(v.hear.event);
        c.write_line(right.cut_top(first), v.note, {TextRole::note, p.ink, Align::right});
    }
    c.write_line(box.cut_top(first), v.drill, {TextRole::heading, p.ink});
    if (!fit.aim) return;
    c.write_line(box.cut_top(c.em()), v.drill_aim, {TextRole::body, p.quiet_ink});
    c.write_line(right.cut_top(c.em()), v.hear.does, {TextRole::body, p.quiet_ink, Align::right});
}

void draw_notice(Canvas& c, const std::string& notice, Box box)
{
    if (notice.empty()) return;
    box.cut_bottom(0.3f * c.em());
    c.frame(box, c.palette().quiet_ink, 0.3f * c.em());
    const Box words{box.x + c.em(), box.y + 0.3f * c.em(), box.w - 2 * c.em(), box.h};
    c.write(words, notice, {TextRole::body, c.palette().ink});
}

void draw_facts(Canvas& c, const std::vector<std::string>& facts, const Box& box)
{
    const float gap = 2.0f * c.em();
    std::vector<std::string> shown = facts;
    const auto width_of = [&] {
        float width = -gap;
        for (const std::string& fact : shown) width += c.size_of(TextRole::body, fact).x + gap;
        return width;
    };
    while (shown.size() > 1 && width_of() > box.w) shown.erase(shown.begin());
    float x = box.x + (box.w - width_of()) / 2.0f;
    for (const std::string& fact : shown) {
        const float width = c.size_of(TextRole::body, fact).x;
        c.write_line({x, box.y, std::min(width + 1, box.w), c.em()}, fact,
                     {TextRole::body, c.palette().quiet_ink});
        x += width + gap;
    }
}

void draw_words(Canvas& c, const PracticeView& v, const Fit& fit, const Box& box)
{
    Box rest = box;
    rest.cut_top(c.write(rest, v.line, {TextRole::line, c.palette().ink, Align::centre}));
    rest.cut_top(0.3f * c.em());
    if (fit.second) {
        c.write(rest, v.second, {TextRole::body, c.palette().quiet_ink, Align::centre});
    }
}

void draw_picture(Canvas& c, const PracticeView& v, const Box& box)
{
    if (const auto* glide = std::get_if<GlideView>(&v.picture)) {
        draw_glide(c, *glide, box);
    } else {
        draw_ribbon(c, std::get<RibbonView>(v.picture), box);
    }
}

}  // namespace

void draw_practice(Canvas& c, const PracticeView& v)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, v.meter);
    const Fit fit = fit_of(c, v, rest);
    draw_header(c, v, fit, rest.cut_top(header_height(c, v, fit)));
    draw_notice(c, v.notice, rest.cut_top(notice_height(c, v, rest.w)));
    const float words = words_height(c, v, fit, rest.w);
    draw_words(c, v, fit, rest.cut_bottom(words));

    const float facts = fit.facts ? facts_height(c) : 0.0f;
    // The digits take a little less than half of what is left; the ribbon is no taller than it is
    // easily read.
    const float left = rest.h - facts;
    const float picture = std::min(0.56f * left, 330.0f * c.unit());
    Box digits = rest.cut_top(std::min(left - picture, 0.36f * c.window().h));
    const float air = 0.08f * digits.h;
    digits.cut_top(air);
    digits.cut_bottom(air);
    c.write_digits(digits, v.stopwatch);
    if (fit.facts) draw_facts(c, v.facts, rest.cut_top(facts));
    const float slack = std::max(0.0f, rest.h - picture);
    rest.cut_top(slack * 0.6f);
    draw_picture(c, v, rest.cut_top(picture));
}

}  // namespace holdwell
