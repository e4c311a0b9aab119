// The practice screen. What matters most keeps its place when the window is small or the words are
// large: the line of words first, then the stopwatch, then the picture; the rest makes room.

#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

// What is shown of the things that may be left out, and the least room for the others.
struct Fit {
    bool has_header{true};
    bool has_aim{true};
    bool has_facts{true};
    bool has_second{true};
    bool has_picture{true};
    bool has_digits{true};
    bool has_words{true};  // only a notice takes their place
    FooterSize footer{FooterSize::full};
    TextRole line{TextRole::line};
    float least_picture{170.0f};  // points
    float least_digits{110.0f};
};

// Everything at first; then, step by step, less.
std::vector<Fit> fits()
{
    std::vector<Fit> steps(1);
    const auto less = [&](auto change) {
        steps.push_back(steps.back());
        change(steps.back());
    };
    less([](Fit& f) { f.least_picture = 130.0f, f.least_digits = 70.0f; });
    less([](Fit& f) { f.has_aim = false; });
    less([](Fit& f) { f.footer = FooterSize::one_row; });
    less([](Fit& f) { f.has_facts = false; });
    less([](Fit& f) { f.least_picture = 80.0f, f.least_digits = 56.0f; });
    less([](Fit& f) { f.has_second = false; });
    less([](Fit& f) { f.line = TextRole::body; });
    less([](Fit& f) { f.has_picture = false, f.least_digits = 40.0f; });
    less([](Fit& f) { f.has_digits = false; });
    less([](Fit& f) { f.has_header = false; });
    less([](Fit& f) { f.has_words = false; });
    return steps;
}

float header_height(const Canvas& c, const Fit& fit)
{
    if (!fit.has_header) return 0.0f;
    if (!fit.has_aim) return 1.25f * c.line_height(TextRole::heading);
    return 1.15f * c.line_height(TextRole::note) + 1.3f * c.em();
}

float facts_height(const Canvas& c, const Fit& fit) { return fit.has_facts ? 1.6f * c.em() : 0.0f; }

float words_height(const Canvas& c, const PracticeView& v, const Fit& fit)
{
    if (!fit.has_words) return 0.0f;
    const float width = inner_of(c).w;
    float height = c.size_of(fit.line, v.line, width).y + 0.4f * c.em();
    // It always has a place, so that nothing jumps when it comes.
    if (fit.has_second) {
        height += std::max(c.size_of(TextRole::body, v.second, width).y, c.em()) + 0.3f * c.em();
    }
    return height;
}

float notice_height(const Canvas& c, const PracticeView& v)
{
    if (v.notice.empty()) return 0.0f;
    const float width = inner_of(c).w - 2.0f * c.em();
    return c.size_of(TextRole::body, v.notice, width).y + 1.0f * c.em();
}

float least_height(const Canvas& c, const PracticeView& v, const Fit& fit)
{
    const float keys = plan_footer(c, v.keys, v.meter, fit.footer).height + 0.6f * c.em();
    const float picture = fit.has_picture ? fit.least_picture * c.unit() : 0.0f;
    const float digits = fit.has_digits ? fit.least_digits * c.unit() : 0.0f;
    return keys + header_height(c, fit) + notice_height(c, v) + words_height(c, v, fit) +
           facts_height(c, fit) + picture + digits;
}

Fit fit_of(const Canvas& c, const PracticeView& v)
{
    const float height = inner_of(c).h;
    const std::vector<Fit> steps = fits();
    const auto fitting = std::ranges::find_if(
        steps, [&](const Fit& fit) { return least_height(c, v, fit) <= height; });
    return fitting == steps.end() ? steps.back() : *fitting;
}

void draw_header(Canvas& c, const PracticeView& v, const Fit& fit, Box box)
{
    if (!fit.has_header) return;
    const Palette& p = c.palette();
    const float note = c.size_of(TextRole::note, v.note).x + 2;
    const float hear = v.note.empty() ? 0.0f : button_width(c, v.hear, ButtonLook::plain);
    Box right = box.cut_right(fit.has_aim ? std::max(note, hear) : note);
    box.cut_right(c.em());
    const float first = fit.has_aim ? 1.15f * c.line_height(TextRole::note) : header_height(c, fit);
    if (!v.note.empty()) {
        const Box place = right.cut_top(first);
        if (c.clickable("note", place)) c.events.push_back(v.hear.event);
        c.write_line(place, v.note, {TextRole::note, p.ink, Align::right});
    }
    c.write_line(box.cut_top(first), v.drill, {TextRole::heading, p.ink});
    if (!fit.has_aim) return;
    c.write_line(box.cut_top(1.2f * c.em()), v.drill_aim, {TextRole::body, p.quiet_ink});
    if (v.note.empty()) return;
    Box row = right.cut_top(1.2f * c.em());
    draw_button(c, row.cut_right(hear), v.hear, ButtonLook::plain);
}

void draw_notice(Canvas& c, const std::string& notice, Box box)
{
    if (notice.empty()) return;
    box.cut_top(0.2f * c.em());
    box.cut_bottom(0.2f * c.em());
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

void draw_words(Canvas& c, const PracticeView& v, const Fit& fit, Box box)
{
    if (!fit.has_words) return;
    box.cut_top(c.write(box, v.line, {fit.line, c.palette().ink, Align::centre}));
    box.cut_top(0.3f * c.em());
    if (!fit.has_second) return;
    c.write(box, v.second, {TextRole::body, c.palette().quiet_ink, Align::centre});
}

void draw_picture(Canvas& c, const PracticeView& v, const Box& box)
{
    if (const auto* glide = std::get_if<GlideView>(&v.picture)) {
        draw_glide(c, *glide, box);
    } else {
        draw_ribbon(c, std::get<RibbonView>(v.picture), box);
    }
}

// The digits and the picture share what the words leave.
void draw_middle(Canvas& c, const PracticeView& v, const Fit& fit, Box box)
{
    const bool is_glide = std::holds_alternative<GlideView>(v.picture);
    const float facts = facts_height(c, fit);
    const float left = box.h - facts;
    float digits = fit.has_picture ? (is_glide ? 0.26f : 0.42f) * left : left;
    digits = std::min(digits, (is_glide ? 0.16f : 0.24f) * c.window().h);
    if (!fit.has_digits) digits = 0.0f;
    Box digits_box = box.cut_top(digits);
    digits_box = digits_box.inset(0.09f * digits);
    if (fit.has_digits) c.write_digits(digits_box, v.stopwatch);
    if (fit.has_facts) draw_facts(c, v.facts, box.cut_top(facts));
    if (!fit.has_picture) return;
    const float tallest = (is_glide ? 520.0f : 330.0f) * c.unit();
    const float slack = std::max(0.0f, box.h - tallest);
    box.cut_top(0.5f * slack);
    box.cut_bottom(0.5f * slack);
    draw_picture(c, v, box);
}

}  // namespace

void draw_practice(Canvas& c, const PracticeView& v)
{
    Box rest = inner_of(c);
    const Fit fit = fit_of(c, v);
    draw_footer(c, rest, plan_footer(c, v.keys, v.meter, fit.footer), v.meter);
    draw_header(c, v, fit, rest.cut_top(header_height(c, fit)));
    draw_notice(c, v.notice, rest.cut_top(notice_height(c, v)));
    // Where there is room, air between the words and the keys.
    const float spare = rest.h - least_height(c, v, fit) + header_height(c, fit);
    if (spare > 0.0f) rest.cut_bottom(std::min(0.1f * spare, 0.6f * c.em()));
    draw_words(c, v, fit, rest.cut_bottom(words_height(c, v, fit)));
    draw_middle(c, v, fit, rest);
}

}  // namespace holdwell
