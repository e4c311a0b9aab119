#include "app/cli/near_match.h"

#include <algorithm>
#include <cstddef>

namespace holdwell {

namespace {

constexpr std::size_t kMostSlips = 2;
constexpr std::size_t kLongestWord = 64;

// Optimal string alignment (Damerau, Comm. ACM 7, 171-176, 1964).
std::size_t slips_between(std::string_view a, std::string_view b)
{
    std::vector<std::vector<std::size_t>> slips(a.size() + 1,
                                                std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) slips[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) slips[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t other = slips[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            slips[i][j] = std::min({slips[i - 1][j] + 1, slips[i][j - 1] + 1, other});
            const bool exchanged = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (exchanged) slips[i][j] = std::min(slips[i][j], slips[i - 2][j - 2] + 1);
        }
    }
    return slips[a.size()][b.size()];
}

}  // namespace

std::string near_match(std::string_view typed, const std::vector<std::string>& words)
{
    if (typed.size() > kLongestWord) return "";
    std::size_t fewest = kMostSlips + 1;
    std::string nearest;
    for (const std::string& word : words) {
        const std::size_t slips = slips_between(typed, word);
        if (slips == fewest) nearest.clear();
        if (slips >= fewest || 2 * slips >= word.size()) continue;
        fewest = slips;
        nearest = word;
    }
    return nearest;
}

}  // namespace holdwell
