// A page: its title, its blocks from top to bottom, its keys.

#include "app/ui/draw_page.h"

#include <algorithm>
#include <span>
#include <vector>

namespace holdwell {
namespace {

constexpr float kTextColumn = 42.0f;  // em; a longer line is hard to read
constexpr float kPicturesColumn = 72.0f;

Event event_of(const PageKeyHint& hint)
{
    using Key = PressKey::Key;
    switch (hint.letter) {
    case '\n':
        return PressKey{.key = Key::proceed};
    case 27:
        return PressKey{.key = Key::back};
    case ' ':
        return PressKey{.key = Key::space};
    default:
        return PressKey{.key = Key::letter, .letter = hint.letter, .with = hint.with};
    }
}

std::vector<KeyHint> hints_of(const std::vector<PageKeyHint>& keys)
{
    std::vector<KeyHint> hints;
    for (const PageKeyHint& key : keys) {
        hints.push_back({key.key, key.does, event_of(key)});
    }
    return hints;
}

bool is_small_chart(const PageBlock& block)
{
    const auto* chart = std::get_if<ChartBlock>(&block);
    return chart != nullptr && chart->size == ChartBlock::Size::small;
}

bool is_row(const PageBlock& block)
{
    return std::holds_alternative<RowBlock>(block) || std::holds_alternative<ScaleBlock>(block);
}

// A heading without words of its own.
bool is_heading(const PageBlock& block)
{
    const auto* text = std::get_if<TextBlock>(&block);
    if (text != nullptr) return !text->heading.empty() && text->body.empty();
    return std::holds_alternative<ColumnHeadBlock>(block);
}

// Draws a page's blocks, and remembers where each came to lie.
class PagePen {
public:
    PagePen(Canvas& canvas, const PageView& view, const Box& box)
        : c_{canvas}, view_{view}, box_{box}, top_{box.y}
    {
        columns_ = row_columns(c_, view, text_width());
    }
    // The second time, of what was measured before, only what is seen whole.
    PagePen(const PagePen& measured, const Scroller& scroller)
        : c_{measured.c_}, view_{measured.view_}, box_{scroller.content()}, top_{box_.y},
          columns_{measured.columns_}, measured_{&measured}, window_{scroller.window()}
    {
    }

    // The height used.
    float draw()
    {
        if (!view_.lead.empty()) draw_lead();
        std::size_t i = 0;
        while (i < view_.blocks.size()) {
            std::size_t end = i;
            while (end < view_.blocks.size() && is_small_chart(view_.blocks[end])) ++end;
            if (end > i) {
                if (is_after_row_) box_.cut_top(0.6f * c_.em());
                draw_side_by_side(std::span{view_.blocks}.subspan(i, end - i));
                is_after_row_ = false;
                i = end;
            } else {
                draw_piece(view_.blocks[i++]);
            }
        }
        return box_.y - top_;
    }

    std::optional<Sight> sight() const
    {
        // Where there is nowhere else to go, the page is read from its top.
        return row_ < 2 ? std::nullopt : sight_;
    }
    const std::vector<Piece>& pieces() const { return pieces_; }
    std::optional<Seen::Rows> rows_seen() const { return rows_seen_; }

private:
    float text_width() const { return std::min(box_.w, kTextColumn * c_.em()); }
    Box text_box() const { return {box_.x, box_.y, text_width(), box_.h}; }
    Box picture_box() const
    {
        return {box_.x, box_.y, std::min(box_.w, kPicturesColumn * c_.em()), box_.h};
    }
    void advance(float height, float gap_em)
    {
        drawn_to_ = box_.y + height;
        box_.cut_top(height + gap_em * c_.em());
    }

    void begin_piece()
    {
        piece_top_ = box_.y - top_;
        if (measured_ == nullptr || pieces_.size() >= measured_->pieces_.size()) return;
        const Sight& at = measured_->pieces_[pieces_.size()].at;
        const bool is_whole = at.top >= window_.top - 1.0f && at.bottom <= window_.bottom + 1.0f;
        const bool is_taller = at.bottom - at.top > window_.bottom - window_.top;
        if (!is_whole && !is_taller) c_.set_ink(Canvas::Ink::dry);
    }
    void end_piece()
    {
        pieces_.push_back({.at = {piece_top_, drawn_to_ - top_}});
        if (measured_ != nullptr) c_.set_ink(Canvas::Ink::wet);
    }

    void draw_lead()
    {
        const TextStyle quiet{TextRole::body, c_.palette().quiet_ink};
        begin_piece();
        advance(c_.write(text_box(), view_.lead, quiet), c_.is_tight() ? 0.4f : 0.9f);
        end_piece();
    }

    void draw_piece(const PageBlock& block)
    {
        const bool is_text = std::holds_alternative<TextBlock>(block);
        // What follows is not the row's own.
        if (is_text && is_after_row_) box_.cut_top(0.6f * c_.em());
        begin_piece();
        std::visit([this](const auto& b) { put(b); }, block);
        end_piece();
        pieces_.back().is_heading = is_heading(block);
        is_after_row_ = is_row(block);
    }

    void put(const TextBlock& b)
    {
        advance(draw_text_block(c_, b, text_box()), b.body.empty() ? 0.1f : 0.5f);
    }
    void put(const ColumnHeadBlock& b)
    {
        advance(draw_column_heads(c_, b, columns_, row_box()), 0.0f);
    }
    void put(const DaysBlock& b) { advance(draw_days_block(c_, b, text_box()), 0.9f); }
    void put(const SharesBlock& b) { advance(draw_shares_block(c_, b, text_box()), 0.9f); }
    void put(const TableBlock& b) { advance(draw_table_block(c_, b, picture_box()), 0.9f); }
    void put(const ChartBlock& b) { advance(draw_chart_block(c_, b, picture_box()), 1.1f); }
    void put(const RowBlock& b)
    {
        put_row([&](const RowPlace& place) { return draw_row_block(c_, b, place, row_box()); });
    }
    void put(const ScaleBlock& b)
    {
        put_row([&](const RowPlace& place) { return draw_scale_block(c_, b, place, row_box()); });
    }

    // A little wider than text: a list's columns need the room.
    Box row_box() const
    {
        return {box_.x, box_.y, std::min(box_.w, 1.25f * kTextColumn * c_.em()), box_.h};
    }

    template <typename Draw>
    void put_row(Draw draw_row)
    {
        const bool is_focused = view_.focused == row_;
        advance(draw_row({row_, is_focused, columns_}), 0.12f);
        if (is_focused) sight_ = Sight{piece_top_, drawn_to_ - top_};
        if (!c_.is_dry()) rows_seen_ = Seen::Rows{rows_seen_ ? rows_seen_->first : row_, row_};
        ++row_;
    }

    void draw_side_by_side(std::span<const PageBlock> charts)
    {
        const Box all = picture_box();
        const float gap = 1.4f * c_.em();
        const float least = 19.0f * c_.em();
        const auto most = static_cast<std::size_t>(std::max(1.0f, (all.w + gap) / (least + gap)));
        const std::size_t in_row = std::clamp<std::size_t>(most, 1, 3);
        const float width =
            (all.w - gap * static_cast<float>(in_row - 1)) / static_cast<float>(in_row);
        for (std::size_t i = 0; i < charts.size(); i += in_row) {
            begin_piece();
            Box row = picture_box();
            float height = 0.0f;
            for (std::size_t j = i; j < std::min(i + in_row, charts.size()); ++j) {
                const Box cell = row.cut_left(width);
                height =
                    std::max(height, draw_chart_block(c_, std::get<ChartBlock>(charts[j]), cell));
                row.cut_left(gap);
            }
            advance(height, 1.0f);
            end_piece();
        }
    }

    Canvas& c_;
    const PageView& view_;
    Box box_;
    float top_;
    RowColumns columns_;
    const PagePen* measured_{nullptr};  // none: this one measures
    Sight window_;
    float piece_top_{0.0f};
    float drawn_to_{0.0f};
    int row_{0};
    bool is_after_row_{false};
    std::vector<Piece> pieces_;
    std::optional<Sight> sight_;
    std::optional<Seen::Rows> rows_seen_;
};

}  // namespace

void draw_page(Canvas& c, const PageView& v, const WindowView& where)
{
    Box rest = inner_of(c);
    if (!v.keys.empty()) draw_footer(c, rest, hints_of(v.keys));
    if (!v.notice.empty()) {
        const TextStyle strong{TextRole::strong, c.palette().ink};
        c.set_ink(Canvas::Ink::dry);
        const float height = c.write(rest, v.notice, strong);
        c.set_ink(Canvas::Ink::wet);
        c.write(rest.cut_bottom(height), v.notice, strong);
        rest.cut_bottom(0.5f * c.em());
    }
    if (rest.h > 12.0f * c.em()) draw_title(c, rest, v.title);
    c.set_ink(Canvas::Ink::dry);
    PagePen measure{c, v, {rest.x, rest.y, rest.w, 1e6f}};
    const float height = measure.draw();
    c.set_ink(Canvas::Ink::wet);
    // Who turns pages reads what lies between rows; any other key comes back to the row in focus.
    const auto sight =
        where.page > 0 || where.shows == WindowView::Shows::page ? std::nullopt : measure.sight();
    const Scroller scroller{
        c,
        rest,
        {.height = height, .page = where.page, .sight = sight, .pieces = measure.pieces()}};
    PagePen pen{measure, scroller};
    pen.draw();
    c.seen.rows = pen.rows_seen();
}

}  // namespace holdwell
