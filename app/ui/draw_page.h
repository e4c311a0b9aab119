#pragma once
// The parts of a page: each block drawn from the top of a box, giving the height it used. A dry
// canvas gives the height alone.

#include <optional>

#include "app/ui/canvas.h"
#include "app/ui/draw.h"
#include "app/ui/views.h"

namespace holdwell {

// Widths that the rows of one page share, so that values stand below each other.
struct RowColumns {
    float label_width{0.0f};
    bool is_beside{true};  // else the value stands below its label
};
RowColumns row_columns(const Canvas& canvas, const PageView& view, float width);

struct RowPlace {
    int row{0};
    bool is_focused{false};
    RowColumns columns;
};

float draw_text_block(Canvas& canvas, const TextBlock& block, Box box);
float draw_row_block(Canvas& canvas, const RowBlock& block, const RowPlace& place, Box box);
float draw_column_heads(Canvas& canvas, const ColumnHeadBlock& block, const RowColumns& columns,
                        Box box);
float draw_scale_block(Canvas& canvas, const ScaleBlock& block, const RowPlace& place, Box box);
float draw_days_block(Canvas& canvas, const DaysBlock& block, Box box);
float draw_shares_block(Canvas& canvas, const SharesBlock& block, Box box);
float draw_table_block(Canvas& canvas, const TableBlock& block, Box box);
float draw_chart_block(Canvas& canvas, const ChartBlock& block, Box box);

}  // namespace holdwell
