#pragma once
// Which of the words that there are somebody meant who mistyped one.

#include <string>
#include <string_view>
#include <vector>

namespace holdwell {

// The one word that is at most two slips away (a letter too many, missing, other, or two
// exchanged), and nearer than half its length; empty when there is none, or more than one as near.
std::string near_match(std::string_view typed, const std::vector<std::string>& words);

}  // namespace holdwell
