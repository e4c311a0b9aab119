#include "app/ui/canvas.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

Box Box::cut_top(float height)
{
    const Box slice{x, y, w, std::min(height, h)};
    y += slice.h;
    h -= slice.h;
    return slice;
}

Box Box::cut_bottom(float height)
{
    const float slice = std::min(height, h);
    h -= slice;
    return {x, y + h, w, slice};
}

Box Box::cut_left(float width)
{
    const Box slice{x, y, std::min(width, w), h};
    x += slice.w;
    w -= slice.w;
    return slice;
}

Box Box::cut_right(float width)
{
    const float slice = std::min(width, w);
    w -= slice;
    return {x + w, y, slice, h};
}

ImU32 packed(Colour c) { return IM_COL32(c.r, c.g, c.b, 255); }

ImU32 packed(Colour c, double opacity)
{
    return IM_COL32(c.r, c.g, c.b, static_cast<int>(std::lround(255.0 * opacity)));
}

Colour blend(Colour from, Colour to, double share)
{
    const auto mix = [share](std::uint8_t a, std::uint8_t b) {
        return static_cast<std::uint8_t>(std::lround(a + (b - a) * share));
    };
    return {mix(from.r, to.r), mix(from.g, to.g), mix(from.b, to.b)};
}

namespace {
// From line to line in a paragraph.
constexpr float kLeading = 1.12f;
}  // namespace

Canvas::Canvas(const Setting& setting) : setting_{setting}, list_{ImGui::GetWindowDrawList()} {}

float Canvas::line_height(TextRole role) const
{
    return static_cast<float>(pixels_of(role, setting_.scale));
}

ImVec2 Canvas::size_of(TextRole role, std::string_view text, float wrap_width) const
{
    const SizedFont font = setting_.fonts->of(role);
    ImVec2 size = font.face->CalcTextSizeA(font.px, FLT_MAX, wrap_width, text.data(),
                                           text.data() + text.size());
    const float lines = std::round(size.y / font.px);
    if (lines > 1.0f) size.y = lines * std::round(font.px * kLeading);
    return size;
}

// Half a line is no text: what the clip would cut is left for the next page.
bool Canvas::is_seen(const Box& line) const
{
    if (ink_ == Ink::dry) return false;
    if (clips_.empty()) return true;
    const Box& clip = clips_.back();
    return line.y >= clip.y - 1.0f && line.bottom() <= clip.bottom() + 1.0f;
}

void Canvas::place(const Box& box, std::string_view text)
{
    placed_.push_back({box, std::string{text}});
}

float Canvas::write(const Box& box, std::string_view text, const TextStyle& style)
{
    if (text.empty()) return 0.0f;
    const SizedFont font = setting_.fonts->of(style.role);
    const char* begin = text.data();
    const char* const end = begin + text.size();
    float y = std::round(box.y);
    while (begin < end) {
        const char* line_end = font.face->CalcWordWrapPositionA(1.0f, begin, end, box.w);
        if (line_end == begin) line_end = begin + 1;
        const std::string_view line{begin, static_cast<std::size_t>(line_end - begin)};
        const float width = size_of(style.role, line).x;
        float x = box.x;
        if (style.align == Align::centre) x += (box.w - width) / 2.0f;
        if (style.align == Align::right) x += box.w - width;
        x = std::round(x);
        const Box place_of_line{x, y, width, font.px};
        if (is_seen(place_of_line)) {
            list_->AddText(font.face, font.px, {x, y}, packed(style.colour), begin, line_end);
            place(place_of_line, line);
        }
        y += std::round(font.px * kLeading);
        begin = line_end;
        while (begin < end && *begin == ' ') ++begin;
    }
    return y - box.y;
}

std::string Canvas::shortened(TextRole role, std::string_view text, float width) const
{
    std::string shorter{text};
    if (size_of(role, shorter).x <= width) return shorter;
    const std::string ellipsis = "\u2026";
    while (!shorter.empty() && size_of(role, shorter + ellipsis).x > width) {
        // Whole characters: UTF-8 continuation bytes go with the byte that leads them.
        while (!shorter.empty() && (static_cast<unsigned char>(shorter.back()) & 0xC0U) == 0x80U) {
            shorter.pop_back();
        }
        if (!shorter.empty()) shorter.pop_back();
    }
    return shorter + ellipsis;
}

void Canvas::write_line(const Box& box, std::string_view text, const TextStyle& style)
{
    if (text.empty()) return;
    const std::string line = shortened(style.role, text, box.w);
    const SizedFont font = setting_.fonts->of(style.role);
    const float width = size_of(style.role, line).x;
    float x = box.x;
    if (style.align == Align::centre) x += (box.w - width) / 2.0f;
    if (style.align == Align::right) x += box.w - width;
    const ImVec2 at{std::round(x), std::round(box.y + (box.h - font.px) / 2.0f)};
    if (!is_seen({at.x, at.y, width, font.px})) return;
    list_->AddText(font.face, font.px, at, packed(style.colour), line.data(),
                   line.data() + line.size());
    place({at.x, at.y, width, font.px}, line);
}

// Every digit has the same room, so that the others keep their place while one changes.
void Canvas::write_digits(const Box& box, std::string_view text)
{
    const SizedFont font = setting_.fonts->of(TextRole::stopwatch);
    // A typeface's digits fill about 60 % of its line; the box is to be filled by digits alone.
    constexpr float kDigitShare = 0.6f;
    const float digit = size_of(TextRole::stopwatch, "0").x;
    const float point = size_of(TextRole::stopwatch, ".").x;
    float natural = 0.0f;
    for (const char c : text) natural += c == '.' ? point : digit;
    if (natural <= 0.0f) return;
    const float fit = std::min(box.w / natural, box.h / (font.px * kDigitShare));
    const float px = font.px * std::min(fit, 1.15f);
    const float scale = px / font.px;
    const float height = px * kDigitShare;
    const float y = std::round(box.y + (box.h - px) / 2.0f);
    float x = box.x + (box.w - natural * scale) / 2.0f;
    place({x, y + (px - height) / 2.0f, natural * scale, height}, text);
    for (const char c : text) {
        const std::string_view glyph{&c, 1};
        const float room = (c == '.' ? point : digit) * scale;
        const float own = size_of(TextRole::stopwatch, glyph).x * scale;
        list_->AddText(font.face, px, {std::round(x + (room - own) / 2.0f), y},
                       packed(palette().ink), glyph.data(), glyph.data() + 1);
        x += room;
    }
}

bool Canvas::clickable(const std::string& id, const Box& box)
{
    if (ink_ == Ink::dry || box.w < 1.0f || box.h < 1.0f) return false;
    ImGui::SetCursorScreenPos({box.x, box.y});
    const bool clicked = ImGui::InvisibleButton(id.c_str(), {box.w, box.h});
    if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    return clicked;
}

bool Canvas::is_hovered(const Box& box) const
{
    return ImGui::IsMouseHoveringRect({box.x, box.y}, {box.right(), box.bottom()});
}

void Canvas::fill(const Box& box, Colour colour, float rounding) const
{
    if (ink_ == Ink::dry) return;
    list_->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, packed(colour), rounding);
}

void Canvas::dot(ImVec2 centre, float radius, Colour colour) const
{
    if (ink_ == Ink::wet) list_->AddCircleFilled(centre, radius, packed(colour), 32);
}

void Canvas::half_dot(ImVec2 centre, float radius, Colour colour) const
{
    if (ink_ == Ink::dry) return;
    constexpr float kHalfTurn = 3.14159265f;
    list_->PathArcTo(centre, radius, 0.0f, kHalfTurn, 16);
    list_->PathFillConvex(packed(colour));
}

void Canvas::ring(ImVec2 centre, float radius, Colour colour) const
{
    if (ink_ == Ink::wet) list_->AddCircle(centre, radius, packed(colour), 32, 2.0f * unit());
}

void Canvas::frame(const Box& box, Colour colour, float rounding) const
{
    if (ink_ == Ink::dry) return;
    list_->AddRect({box.x, box.y}, {box.right(), box.bottom()}, packed(colour), rounding, 0,
                   std::max(1.0f, 1.5f * unit()));
}

void Canvas::rule(float x0, float x1, float y) const
{
    list_->AddLine({x0, y}, {x1, y}, packed(palette().middle), std::max(1.0f, unit()));
}

void Canvas::push_clip(const Box& box)
{
    list_->PushClipRect({box.x, box.y}, {box.right(), box.bottom()}, true);
    clips_.push_back(box);
}

void Canvas::pop_clip()
{
    list_->PopClipRect();
    clips_.pop_back();
}

}  // namespace holdwell
