#include "app/practice/utf8.h"

#include <doctest/doctest.h>

#include <string>

namespace holdwell {

TEST_CASE("letters of UTF-8 are counted, and bytes that are none refused")
{
    struct Row {
        const char* name;
        std::string bytes;
        std::optional<std::size_t> letters;
    };
    // RFC 3629, sections 3 and 4 and its examples of section 7.
    const Row rows[] = {{"nothing", "", 0},
                        {"not identical to, alpha", "A\xE2\x89\xA2\xCE\x91.", 4},
                        {"hangul", "\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4", 3},
                        {"four bytes", "\xF0\xA3\x8E\xB4", 1},
                        {"highest", "\xF4\x8F\xBF\xBF", 1},
                        {"beyond the highest", "\xF4\x90\x80\x80", {}},
                        {"a lone byte that goes on", "\x80", {}},
                        {"cut short", "\xE2\x89", {}},
                        {"NUL in two bytes", "\xC0\x80", {}},
                        {"slash in three bytes", "\xE0\x80\xAF", {}},
                        {"overlong four bytes", "\xF0\x80\x80\xAF", {}},
                        {"a surrogate", "\xED\xA1\x8C", {}},
                        {"no first byte", "\xFE", {}}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        CHECK(letters_in(row.bytes) == row.letters);
    }
}

TEST_CASE("control characters are noticed, line breaks apart")
{
    CHECK_FALSE(has_control("plain \u00e9"));
    CHECK(has_control("a\nb"));
    CHECK(has_control("a\x7f"));
    CHECK(has_control(std::string(1, '\0')));
    CHECK_FALSE(has_control_in_lines("a\nb"));
    CHECK(has_control_in_lines("a\tb"));
}

}  // namespace holdwell
