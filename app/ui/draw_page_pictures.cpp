// What is read on a page: words, days, shares, tables.

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "app/ui/draw_page.h"

namespace holdwell {
namespace {

constexpr float kBetweenDays = 0.3f;  // em

bool is_weekday(const std::string& name)
{
    return !name.empty() && (name[0] < '0' || name[0] > '9');
}

// "Mon", else "Mo" or "M", the same for all: two days are never told apart by it alone.
std::size_t letters_that_fit(const Canvas& c, const std::vector<DaysBlock::Day>& days, float width)
{
    for (const std::size_t letters : {3U, 2U}) {
        const bool fits = std::ranges::all_of(days, [&](const DaysBlock::Day& day) {
            return !is_weekday(day.name) ||
                   c.size_of(TextRole::strong, day.name.substr(0, letters)).x <= width;
        });
        if (fits) return letters;
    }
    return 1;
}

// One day: its name, and a ring for each practice asked, filled where it was done, half of it
// where it was done part of the way.
void draw_day(Canvas& c, const DaysBlock::Day& day, std::size_t letters, Box cell)
{
    const Palette& p = c.palette();
    cell.cut_right(kBetweenDays * c.em());
    if (day.is_today) c.fill(cell, p.band, 0.35f * c.em());
    Box name = cell.cut_top(1.3f * c.em());
    const auto role = day.is_today ? TextRole::strong : TextRole::body;
    c.write_line(name, is_weekday(day.name) ? day.name.substr(0, letters) : day.name,
                 {role, day.is_ahead ? p.quiet_ink : p.ink, Align::centre});
    const int rings = std::max(day.asked, day.done);
    const float radius = std::min(0.33f * c.em(), 0.36f * cell.w / static_cast<float>(rings + 1));
    const float step = 2.7f * radius;
    float x = cell.x + cell.w / 2 - step * static_cast<float>(rings - 1) / 2;
    const float y = cell.y + cell.h / 2 - 0.1f * c.em();
    for (int i = 0; i < rings; ++i) {
        if (i < day.done - day.partly) {
            c.dot({x, y}, radius, p.accent);
        } else if (i < day.done) {
            c.ring({x, y}, radius, p.accent);
            c.half_dot({x, y}, radius, p.accent);
        } else {
            c.ring({x, y}, radius, day.is_ahead ? p.unlit : p.middle);
        }
        x += step;
    }
    if (rings == 0) c.write_line(cell, "\u2013", {TextRole::body, p.quiet_ink, Align::centre});
}

// From dark to light; the words beside them tell them apart as well.
Colour share_colour(const Palette& p, std::size_t i)
{
    constexpr std::array kTowardsPaper{0.0, 0.35, 0.6, 0.8};
    return blend(p.accent, p.paper, kTowardsPaper[std::min(i, kTowardsPaper.size() - 1)]);
}

std::vector<float> column_widths(const Canvas& c, const TableBlock& b, float width)
{
    std::vector<float> widths(b.head.size(), 0.0f);
    const auto fit = [&](const std::vector<std::string>& row, TextRole role) {
        for (std::size_t i = 0; i < std::min(row.size(), widths.size()); ++i) {
            widths[i] = std::max(widths[i], c.size_of(role, row[i]).x + 1.2f * c.em());
        }
    };
    fit(b.head, TextRole::small);
    for (const auto& row : b.rows) fit(row, TextRole::body);
    float all = 0.0f;
    for (const float w : widths) all += w;
    if (all > width) {
        for (float& w : widths) w *= width / all;
    }
    return widths;
}

void draw_cells(Canvas& c, const std::vector<std::string>& cells, const std::vector<float>& widths,
                const TextStyle& style, Box line)
{
    for (std::size_t i = 0; i < std::min(cells.size(), widths.size()); ++i) {
        Box cell = line.cut_left(widths[i]);
        cell.cut_right(0.4f * c.em());
        c.write_line(cell, cells[i], style);
    }
}

}  // namespace

float draw_text_block(Canvas& c, const TextBlock& b, Box box)
{
    const float top = box.y;
    const Palette& p = c.palette();
    using Weight = TextBlock::Weight;
    const bool is_large = b.weight == Weight::large;
    if (!b.heading.empty()) {
        const auto role = is_large ? TextRole::line : TextRole::strong;
        box.cut_top(c.write(box, b.heading, {role, p.ink}) + 0.15f * c.em());
    }
    const auto role = is_large && b.heading.empty() ? TextRole::line : TextRole::body;
    const Colour colour = b.weight == Weight::quiet ? p.quiet_ink : p.ink;
    // Lines that the page has broken itself stay broken.
    std::size_t begin = 0;
    while (begin < b.body.size()) {
        const std::size_t end = std::min(b.body.find('\n', begin), b.body.size());
        const std::string line = b.body.substr(begin, end - begin);
        box.cut_top(line.empty() ? 0.6f * c.em() : c.write(box, line, {role, colour}));
        begin = end + 1;
    }
    return box.y - top;
}

float draw_days_block(Canvas& c, const DaysBlock& b, Box box)
{
    const float top = box.y;
    constexpr std::size_t kWeek = 7;
    const float width = std::min(box.w, 32.0f * c.em()) / static_cast<float>(kWeek);
    const std::size_t letters = letters_that_fit(c, b.days, width - kBetweenDays * c.em());
    for (std::size_t i = 0; i < b.days.size(); i += kWeek) {
        Box row = box.cut_top(2.7f * c.em());
        for (std::size_t j = i; j < std::min(i + kWeek, b.days.size()); ++j) {
            draw_day(c, b.days[j], letters, row.cut_left(width));
        }
    }
    if (!b.summary.empty()) {
        box.cut_top(0.3f * c.em());
        box.cut_top(c.write(box, b.summary, {TextRole::body, c.palette().ink}));
    }
    return box.y - top;
}

float draw_shares_block(Canvas& c, const SharesBlock& b, Box box)
{
    const float top = box.y;
    const Palette& p = c.palette();
    int all = 0;
    for (const auto& share : b.shares) all += share.count;
    box.cut_top(c.write(box, b.title, {TextRole::strong, p.ink}) + 0.3f * c.em());
    Box bar = box.cut_top(0.8f * c.em());
    const float width = bar.w;
    if (all == 0) c.fill(bar, p.unlit, 0.15f * c.em());
    for (std::size_t i = 0; all > 0 && i < b.shares.size(); ++i) {
        const float part = width * static_cast<float>(b.shares[i].count) / static_cast<float>(all);
        Box piece = bar.cut_left(part);
        piece.cut_right(std::min(1.5f * c.unit(), 0.5f * piece.w));
        if (piece.w >= 0.5f) c.fill(piece, share_colour(p, i));
    }
    box.cut_top(0.3f * c.em());
    const Box first = box;
    Box line = box.cut_top(1.3f * c.em());
    for (std::size_t i = 0; i < b.shares.size(); ++i) {
        const std::string words = b.shares[i].name + " " + std::to_string(b.shares[i].count);
        const float w = c.size_of(TextRole::body, words).x + 2.4f * c.em();
        if (w > line.w && line.x > first.x) line = box.cut_top(1.3f * c.em());
        Box entry = line.cut_left(w);
        const float side = 0.7f * c.em();
        c.fill({entry.x, entry.y + (entry.h - side) / 2, side, side}, share_colour(p, i));
        entry.cut_left(1.1f * c.em());
        c.write_line(entry, words, {TextRole::body, p.ink});
    }
    return box.y - top;
}

float draw_table_block(Canvas& c, const TableBlock& b, Box box)
{
    const float top = box.y;
    const Palette& p = c.palette();
    const std::vector<float> widths = column_widths(c, b, box.w);
    draw_cells(c, b.head, widths, {TextRole::small, p.quiet_ink},
               box.cut_top(1.4f * c.line_height(TextRole::small)));
    for (const auto& row : b.rows) {
        draw_cells(c, row, widths, {TextRole::body, p.ink}, box.cut_top(1.35f * c.em()));
    }
    return box.y - top;
}

}  // namespace holdwell
