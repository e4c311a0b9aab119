// Every package that is installed is one of Ubuntu's under the same name: whoever adds one to
// app/packages.txt adds a row to ubuntu_packages.tsv, which says where that was seen and when.

#include <doctest/doctest.h>

#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

using Row = std::vector<std::string>;

// The lines of a file cut at `separator`, without comments and empty lines.
std::vector<Row> rows_of(const std::string& path, char separator)
{
    std::vector<Row> rows;
    std::ifstream file{path};
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line.front() == '#') continue;
        Row& row = rows.emplace_back();
        std::istringstream cells{line};
        for (std::string cell; std::getline(cells, cell, separator);) {
            if (!cell.empty()) row.push_back(cell);
        }
    }
    return rows;
}

const std::set<std::string> kReleases{"noble", "questing", "resolute", "stonking"};

}  // namespace

TEST_CASE("every package was looked up among those of Ubuntu")
{
    std::set<std::string> looked_up;
    for (const Row& row : rows_of(HOLDWELL_UBUNTU_PACKAGES, '\t')) looked_up.insert(row.front());
    const std::vector<Row> packages = rows_of(HOLDWELL_PACKAGES, ' ');
    REQUIRE(packages.size() > 20);
    for (const Row& package : packages) {
        REQUIRE(package.size() == 2);
        CHECK_MESSAGE(looked_up.contains(package[1]), package[1] << " is not in the table");
    }
    CHECK_MESSAGE(looked_up.size() == packages.size(),
                  "the table has names that are not installed");
}

TEST_CASE("what was found of a package says its release and the page that shows it")
{
    for (const Row& row : rows_of(HOLDWELL_UBUNTU_PACKAGES, '\t')) {
        CAPTURE(row.front());
        REQUIRE(row.size() == 7);
        CHECK(kReleases.contains(row[1]));
        const bool by_its_maker = row[6].starts_with("https://packages.ubuntu.com/");
        const bool by_a_user =
            row[6].starts_with("https://github.com/") && row[5].find("ubuntu:24.04") != row[5].npos;
        CHECK((by_its_maker || by_a_user));
    }
}
