// The text screens, the sound check and the screen without a microphone.

#include <algorithm>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

// A line of text longer than some 80 letters is hard to read.
Box reading_column(const Canvas& c, Box box)
{
    box.w = std::min(box.w, 42.0f * c.em());
    return box;
}

// The heading beside its words where there is room, else above them.
struct SectionLayout {
    bool is_beside{true};
    float heading_width{0.0f};
    float gap{0.0f};
};

SectionLayout layout_of(const Canvas& c, const std::vector<TextSection>& sections, float width)
{
    SectionLayout layout;
    for (const TextSection& s : sections) {
        const float heading = c.size_of(TextRole::strong, s.heading).x + 1.4f * c.em();
        layout.heading_width = std::max(layout.heading_width, heading);
    }
    layout.is_beside = layout.heading_width < 0.4f * width;
    layout.gap = (sections.size() < 8 ? 0.9f : 0.45f) * c.em();
    return layout;
}

float draw_section(Canvas& c, const TextSection& s, const SectionLayout& l, Box box)
{
    const TextStyle strong{TextRole::strong, c.palette().ink};
    const TextStyle body{TextRole::body, c.palette().ink};
    if (s.heading.empty()) return 0.6f * c.em();
    if (l.is_beside) {
        const float heading = c.write(box.cut_left(l.heading_width), s.heading, strong);
        return std::max(heading, c.write(box, s.body, body)) + l.gap;
    }
    const float heading = c.write(box, s.heading, strong);
    box.cut_top(heading);
    return heading + c.write(box, s.body, body) + l.gap;
}

// The one in use has a filled dot, the others an open one.
float draw_microphones(Canvas& c, const SoundCheckView& v, Box box)
{
    const float row = 1.6f * c.em();
    for (int i = 0; i < static_cast<int>(v.choices.size()); ++i) {
        Box line = box.cut_top(row);
        const std::string& name = v.choices[static_cast<std::size_t>(i)];
        if (c.clickable("microphone " + std::to_string(i), line)) c.events.push_back(PickRow{i});
        const float radius = 0.32f * c.em();
        const ImVec2 centre{line.x + radius + 1, line.y + line.h / 2};
        c.ring(centre, radius, c.palette().accent);
        if (i == v.chosen) c.dot(centre, 0.55f * radius, c.palette().accent);
        line.cut_left(1.2f * c.em());
        const auto role = i == v.chosen ? TextRole::strong : TextRole::body;
        c.write_line(line, name, {role, c.palette().ink});
    }
    return row * static_cast<float>(v.choices.size());
}

float draw_check(Canvas& c, const SoundCheckView& v, Box box)
{
    const Palette& p = c.palette();
    const float top = box.y;
    const Box column = reading_column(c, box);
    const auto write = [&](const std::string& text, const TextStyle& style, float gap) {
        const float used = c.write({column.x, box.y, column.w, box.h}, text, style);
        box.cut_top(used + gap * c.em());
    };
    write(v.line, {TextRole::line, p.ink}, 0.2f);
    write(v.detail, {TextRole::body, p.quiet_ink}, 0.6f);
    for (const std::string& finding : v.findings) write(finding, {TextRole::body, p.ink}, 0.05f);
    box.cut_top(0.7f * c.em());
    if (!v.microphone.empty()) write(v.microphone, {TextRole::strong, p.ink}, 0.2f);
    box.cut_top(draw_microphones(c, v, box) + 0.7f * c.em());
    write(v.advice, {TextRole::body, p.quiet_ink}, 0.0f);
    return box.y - top;
}

float draw_offers(Canvas& c, const NoMicrophoneView& v, Box box)
{
    const Palette& p = c.palette();
    const float top = box.y;
    box.cut_top(c.write(box, v.line, {TextRole::line, p.ink}) + 0.4f * c.em());
    box.cut_top(c.write(box, v.detail, {TextRole::body, p.quiet_ink}) + 1.2f * c.em());
    auto look = ButtonLook::filled;
    for (const KeyHint& offer : v.offers) {
        Box row = box.cut_top(1.25f * button_height(c));
        row.cut_bottom(0.25f * button_height(c));
        draw_button(c, row.cut_left(std::min(button_width(c, offer, look), row.w)), offer, look);
        look = ButtonLook::framed;
    }
    return box.y - top;
}

}  // namespace

void draw_text_screen(Canvas& c, const TextView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys);
    draw_title(c, rest, v.title);
    const Box column = reading_column(c, rest);
    const SectionLayout layout = layout_of(c, v.sections, column.w);
    draw_scrolled(c, column, page, [&](Box box) {
        const float top = box.y;
        const TextStyle quiet{TextRole::body, c.palette().quiet_ink};
        box.cut_top(c.write(box, v.lead, quiet) + 0.9f * c.em());
        for (const TextSection& s : v.sections) box.cut_top(draw_section(c, s, layout, box));
        return box.y - top;
    });
}

void draw_sound_check(Canvas& c, const SoundCheckView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys);
    if (rest.h > 15.0f * c.em()) draw_title(c, rest, v.title);
    // The meter is always in sight, above what may scroll.
    Box meter = rest.cut_top(1.4f * c.em());
    draw_meter(c, meter.cut_left(std::min(2.0f * meter_width(c), 0.6f * meter.w)), v.meter);
    meter.cut_left(0.7f * c.em());
    c.write_line(meter, v.meter.words, {TextRole::body, c.palette().quiet_ink});
    rest.cut_top(0.5f * c.em());
    draw_scrolled(c, rest, page, [&](const Box& box) { return draw_check(c, v, box); });
}

void draw_no_microphone(Canvas& c, const NoMicrophoneView& v, int page)
{
    Box rest = inner_of(c);
    const KeyRows keys = key_rows(c, v.keys, rest.w, 1);
    draw_key_rows(c, rest.cut_bottom(keys.height), keys);
    rest.cut_bottom(0.6f * c.em());
    c.rule(rest.x, rest.right(), rest.bottom() + 0.3f * c.em());
    // A little above the middle, where the eye looks first.
    const float spare = rest.h - 14.0f * c.em();
    if (spare > 0.0f) rest.cut_top(0.3f * spare);
    // Where room is short the offers come first: the line says what the title would.
    if (spare > 0.0f || rest.h > 11.0f * c.em()) draw_title(c, rest, v.title);
    draw_scrolled(c, reading_column(c, rest), page,
                  [&](const Box& box) { return draw_offers(c, v, box); });
}

void draw_window(Canvas& c, const WindowView& view)
{
    c.fill(c.window(), c.palette().paper);
    struct Draw {
        Canvas& c;
        const WindowView& where;
        int page;
        void operator()(const TextView& v) const { draw_text_screen(c, v, page); }
        void operator()(const SoundCheckView& v) const { draw_sound_check(c, v, page); }
        void operator()(const PracticeView& v) const { draw_practice(c, v); }
        void operator()(const ChoicesView& v) const { draw_choices(c, v); }
        void operator()(const NoMicrophoneView& v) const { draw_no_microphone(c, v, page); }
        void operator()(const DetailsView& v) const { draw_details(c, v, page); }
        void operator()(const ToleranceView& v) const { draw_tolerance(c, v); }
        void operator()(const PageView& v) const { draw_page(c, v, where); }
    };
    std::visit(Draw{c, view, view.page}, view.screen);
}

}  // namespace holdwell
