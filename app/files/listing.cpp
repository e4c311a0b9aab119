#include "app/files/listing.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/files/csv_text.h"
#include "app/files/json_reader.h"
#include "app/practice/utf8.h"

namespace holdwell {

namespace {

struct CellText {
    std::string operator()(std::monostate) const { return ""; }
    std::string operator()(bool value) const { return value ? "yes" : "no"; }
    std::string operator()(int value) const { return fmt::to_string(value); }
    std::string operator()(double value) const { return fmt::format("{:.4g}", value); }
    std::string operator()(const std::string& text) const { return text; }
};

struct CellJson {
    Json operator()(std::monostate) const { return nullptr; }
    template <typename Value>
    Json operator()(const Value& value) const
    {
        return value;
    }
};

std::size_t width_of(const std::string& text) { return letters_in(text).value_or(text.size()); }

// Rows of text, the heading first.
std::vector<std::vector<std::string>> cells_of(const Listing& listing)
{
    std::vector<std::vector<std::string>> rows(1);
    for (const ListColumn& column : listing.columns) rows[0].push_back(column.heading);
    for (const auto& row : listing.rows) {
        auto& cells = rows.emplace_back();
        for (const ListCell& cell : row) cells.push_back(std::visit(CellText{}, cell));
    }
    return rows;
}

std::string as_text(const Listing& listing)
{
    if (listing.rows.empty()) return {};
    const auto rows = cells_of(listing);
    std::vector<std::size_t> widths(listing.columns.size(), 0);
    for (const auto& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], width_of(row[i]));
    std::string text;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i)
            line += row[i] + std::string(widths[i] - width_of(row[i]) + 2, ' ');
        line.erase(line.find_last_not_of(' ') + 1);
        text += line + '\n';
    }
    return text;
}

std::string as_csv(const Listing& listing)
{
    std::vector<std::string> names;
    for (const ListColumn& column : listing.columns) names.push_back(column.name);
    std::string csv = csv_line(names);
    const auto rows = cells_of(listing);
    for (std::size_t i = 1; i < rows.size(); ++i) csv += csv_line(rows[i]);
    return csv;
}

std::string as_json_lines(const Listing& listing)
{
    std::string lines;
    for (const auto& row : listing.rows) {
        Json object = Json::object();
        for (std::size_t i = 0; i < row.size(); ++i)
            object[listing.columns[i].name] = std::visit(CellJson{}, row[i]);
        lines += object.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
    }
    return lines;
}

}  // namespace

std::string written(const Listing& listing, ListForm form)
{
    switch (form) {
    case ListForm::text:
        return as_text(listing);
    case ListForm::csv:
        return as_csv(listing);
    case ListForm::json:
        return as_json_lines(listing);
    }
    return {};
}

}  // namespace holdwell
