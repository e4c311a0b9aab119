#pragma once
// What tests of the pages on files share: whose files they are, and what a page says.

#include <string>

#include "app/pages/pages.h"
#include "tests/support/desk/desk_pages.h"

namespace holdwell::test {

inline const Id kFilesClient{"00000000000000000000000000000001"};

inline FilesPageFor whose(FilesPageFor::Side side)
{
    return {
        .side = side, .client = kFilesClient, .code = "C-104", .clips = {.count = 3, .bytes = 900}};
}

inline bool has(const Page& page, const std::string& part)
{
    return words_of(page.view()).find(part) != std::string::npos;
}

inline Refused refused(const std::string& sentence)
{
    Refused answer;
    answer.sentence = sentence;
    return answer;
}

}  // namespace holdwell::test
