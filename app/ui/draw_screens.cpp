// The text screens, the sound check and the screen without a microphone.

#include <algorithm>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

// A line of text longer than some 80 letters is hard to read.
Box reading_column(const Canvas& c, Box box)
{
    box.w = std::min(box.w, 46.0f * c.em());
    return box;
}

// The heading beside its words where there is room, else above them.
struct SectionLayout {
    bool is_beside{true};
    float heading_width{0.0f};
};

SectionLayout layout_of(const Canvas& c, const std::vector<TextSection>& sections, float width)
{
    SectionLayout layout;
    for (const TextSection& s : sections) {
        layout.heading_width = std::max(layout.heading_width,
                                        c.size_of(TextRole::strong, s.heading).x + 1.4f * c.em());
    }
    layout.is_beside = layout.heading_width < 0.4f * width;
    return layout;
}

float height_of(const Canvas& c, const TextSection& s, const SectionLayout& l, float width)
{
    const float gap = 0.6f * c.em();
    if (l.is_beside) {
        return std::max(c.size_of(TextRole::body, s.body, width - l.heading_width).y, c.em()) + gap;
    }
    return c.size_of(TextRole::strong, s.heading, width).y +
           c.size_of(TextRole::body, s.body, width).y + gap;
}

void draw_section(Canvas& c, const TextSection& s, const SectionLayout& l, Box box)
{
    const TextStyle strong{TextRole::strong, c.palette().ink};
    const TextStyle body{TextRole::body, c.palette().ink};
    if (l.is_beside) {
        c.write(box.cut_left(l.heading_width), s.heading, strong);
    } else {
        box.cut_top(c.write(box, s.heading, strong));
    }
    c.write(box, s.body, body);
}

void draw_findings(Canvas& c, const std::vector<std::string>& findings, Box& rest)
{
    for (const std::string& finding : findings) {
        rest.cut_top(c.write(rest, finding, {TextRole::body, c.palette().quiet_ink}));
    }
}

// The names fill what room there is; the one in use has a filled dot, the others an open one.
void draw_microphones(Canvas& c, const SoundCheckView& v, Box& rest)
{
    const float row = 1.6f * c.em();
    const auto shown = static_cast<int>(std::max(0.0f, rest.h / row));
    const auto count = static_cast<int>(v.choices.size());
    const int first = std::clamp(v.focused - shown / 2, 0, std::max(0, count - shown));
    for (int i = first; i < std::min(count, first + shown); ++i) {
        Box line = rest.cut_top(row);
        const std::string& name = v.choices[static_cast<std::size_t>(i)];
        if (c.clickable("microphone " + std::to_string(i), line)) c.events.push_back(PickRow{i});
        const float radius = 0.32f * c.em();
        const ImVec2 dot{line.x + radius + 1, line.y + line.h / 2};
        const ImU32 accent = packed(c.palette().accent);
        c.list().AddCircle(dot, radius, accent, 24, 2.0f * c.unit());
        if (i == v.chosen) c.list().AddCircleFilled(dot, 0.55f * radius, accent, 24);
        line.cut_left(1.2f * c.em());
        c.write_line(line, name, {TextRole::body, c.palette().ink});
    }
}

}  // namespace

void draw_text_screen(Canvas& c, const TextView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, {.most_rows = 2, .first_is_main = true});
    draw_title(c, rest, v.title);
    const Box column = reading_column(c, rest);
    const SectionLayout layout = layout_of(c, v.sections, column.w);
    const float lead = c.size_of(TextRole::body, v.lead, column.w).y + 0.9f * c.em();
    float height = lead;
    for (const TextSection& s : v.sections) height += height_of(c, s, layout, column.w);

    const Scroller scroller{c, column, height, page};
    Box content = scroller.content();
    c.write(content.cut_top(lead), v.lead, {TextRole::body, c.palette().quiet_ink});
    for (const TextSection& s : v.sections) {
        draw_section(c, s, layout, content.cut_top(height_of(c, s, layout, column.w)));
    }
}

void draw_sound_check(Canvas& c, const SoundCheckView& v)
{
    const Palette& p = c.palette();
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, {.most_rows = 1, .first_is_main = true});
    const bool is_roomy = rest.h > 22.0f * c.em();
    if (is_roomy) draw_title(c, rest, v.title);
    rest.cut_top(c.write(rest, v.line, {TextRole::line, p.ink}) + 0.2f * c.em());
    rest.cut_top(c.write(rest, v.detail, {TextRole::body, p.quiet_ink}) + 0.5f * c.em());

    Box meter = rest.cut_top(1.4f * c.em());
    draw_meter(c, meter.cut_left(std::min(2.0f * meter_width(c), 0.6f * meter.w)), v.meter);
    meter.cut_left(0.7f * c.em());
    c.write_line(meter, v.meter.words, {TextRole::body, p.quiet_ink});
    rest.cut_top(0.5f * c.em());

    // The advice keeps its place at the bottom; findings and names share what is between.
    const Box column = reading_column(c, rest);
    const float advice = c.size_of(TextRole::body, v.advice, column.w).y;
    const bool has_advice = advice + 4.0f * c.em() < rest.h;
    if (has_advice) {
        Box place = rest.cut_bottom(advice);
        place.w = column.w;
        c.write(place, v.advice, {TextRole::body, p.quiet_ink});
        rest.cut_bottom(0.6f * c.em());
    }
    const auto findings = static_cast<float>(v.findings.size()) * c.em();
    if (findings < rest.h) draw_findings(c, v.findings, rest);
    rest.cut_top(0.4f * c.em());
    if (rest.h < 1.5f * c.em()) return;
    c.write_line(rest.cut_top(1.3f * c.em()), v.microphone, {TextRole::strong, p.ink});
    draw_microphones(c, v, rest);
}

void draw_no_microphone(Canvas& c, const NoMicrophoneView& v)
{
    const Palette& p = c.palette();
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, {.most_rows = 1, .first_is_main = false});
    draw_title(c, rest, v.title);
    Box column = reading_column(c, rest);
    column.cut_top(c.write(column, v.line, {TextRole::line, p.ink}) + 0.4f * c.em());
    column.cut_top(c.write(column, v.detail, {TextRole::body, p.quiet_ink}) + 1.2f * c.em());
    auto look = ButtonLook::filled;
    for (const KeyHint& offer : v.offers) {
        Box row = column.cut_top(1.25f * button_height(c));
        row.cut_bottom(0.25f * button_height(c));
        const float width = std::min(button_width(c, offer, look), row.w);
        draw_button(c, row.cut_left(width), offer, look);
        look = ButtonLook::framed;
    }
}

void draw_window(Canvas& c, const WindowView& view)
{
    c.fill(c.window(), c.palette().paper);
    struct Draw {
        Canvas& c;
        int page;
        void operator()(const TextView& v) const { draw_text_screen(c, v, page); }
        void operator()(const SoundCheckView& v) const { draw_sound_check(c, v); }
        void operator()(const PracticeView& v) const { draw_practice(c, v); }
        void operator()(const ChoicesView& v) const { draw_choices(c, v, page); }
        void operator()(const NoMicrophoneView& v) const { draw_no_microphone(c, v); }
        void operator()(const DetailsView& v) const { draw_details(c, v, page); }
        void operator()(const ToleranceView& v) const { draw_tolerance(c, v); }
    };
    std::visit(Draw{c, view.page}, view.screen);
}

}  // namespace holdwell
