#include <algorithm>

#include "app/report/draw_report.h"

namespace holdwell {

namespace {

constexpr double kRow = 10.5;
constexpr PaperSetting kCell{.style = PaperText::label};
constexpr double kApart = 8.0;

std::vector<double> natural_widths(ReportPaper& paper, const ReportTable& table)
{
    std::vector<double> widths(table.head.size(), 0.0);
    const auto widen = [&](const std::vector<std::string>& row) {
        for (std::size_t i = 0; i < row.size() && i < widths.size(); ++i)
            widths[i] = std::max(widths[i], paper.width_of(row[i], kCell) + kApart);
    };
    widen(table.head);
    for (const auto& row : table.rows) widen(row);
    return widths;
}

// As wide as their words, all together no wider than the page.
std::vector<double> column_widths(ReportPaper& paper, const ReportTable& table, double room)
{
    std::vector<double> widths = natural_widths(paper, table);
    double all = 0.0;
    for (const double width : widths) all += width;
    const double scale = std::min(room / std::max(all, 1.0), 1.6);
    for (double& width : widths) width *= scale;
    return widths;
}

}  // namespace

double table_height(const ReportTable& table)
{
    return kRow * static_cast<double>(table.rows.size() + 1) + 3.0;
}

void draw_table(ReportPaper& paper, const ReportTable& table, const PaperBox& box)
{
    const std::vector<double> widths = column_widths(paper, table, box.width);
    const auto draw_row = [&](const std::vector<std::string>& row, double y, Ink ink) {
        double x = box.x;
        for (std::size_t i = 0; i < row.size() && i < widths.size(); ++i) {
            paper.text(row[i], {.style = PaperText::label, .ink = ink},
                       {x, y, widths[i] - 2.0, kRow});
            x += widths[i];
        }
    };
    draw_row(table.head, box.y, Ink::quiet);
    double y = box.y + kRow;
    for (const auto& row : table.rows) {
        paper.line({box.x, y}, {box.right(), y}, {.ink = Ink::pale, .width = 0.4});
        draw_row(row, y + 1.5, Ink::black);
        y += kRow;
    }
}

}  // namespace holdwell
