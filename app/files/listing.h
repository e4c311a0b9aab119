#pragma once
// A list as a person reads it, or as other programs do: aligned columns, CSV, or one JSON object a
// line. What is unknown is empty, or null.

#include <string>
#include <variant>
#include <vector>

namespace holdwell {

using ListCell = std::variant<std::monostate, bool, int, double, std::string>;

struct ListColumn {
    std::string name;     // for programs: "last_practice"
    std::string heading;  // for people: "last practice"
};

struct Listing {
    std::vector<ListColumn> columns;
    std::vector<std::vector<ListCell>> rows;  // as many cells as columns
};

enum class ListForm { text, csv, json };

// Text has no heading where there is no row.
std::string written(const Listing& listing, ListForm form);

}  // namespace holdwell
