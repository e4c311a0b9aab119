#include "app/files/base64.h"

#include <doctest/doctest.h>

#include "tests/support/random.h"

namespace holdwell {
namespace {

std::vector<std::byte> bytes_of(const std::string& text)
{
    std::vector<std::byte> bytes;
    for (const char c : text) bytes.push_back(static_cast<std::byte>(c));
    return bytes;
}

}  // namespace

TEST_CASE("base64 agrees with the standard's test vectors")
{
    struct Row {
        const char* bytes;
        const char* text;
    };
    // RFC 4648, section 10.
    const Row rows[] = {{"", ""},
                        {"f", "Zg=="},
                        {"fo", "Zm8="},
                        {"foo", "Zm9v"},
                        {"foob", "Zm9vYg=="},
                        {"fooba", "Zm9vYmE="},
                        {"foobar", "Zm9vYmFy"}};
    for (const Row& row : rows) {
        CAPTURE(row.bytes);
        CHECK(to_base64(bytes_of(row.bytes)) == row.text);
        CHECK(from_base64(row.text) == bytes_of(row.bytes));
    }
}

TEST_CASE("bytes come back from base64 as they were")
{
    test::Random random{5};
    for (int length = 0; length < 200; ++length) {
        std::vector<std::byte> bytes;
        for (int i = 0; i < length; ++i) bytes.push_back(static_cast<std::byte>(random.below(256)));
        CHECK(from_base64(to_base64(bytes)) == bytes);
    }
}

TEST_CASE("text that is no base64 is refused")
{
    // RFC 4648, sections 3.2, 3.3 and 3.5: padding is needed, other letters and bits left over are
    // not allowed.
    for (const char* text : {"Z", "Zg", "Zg=", "Zg==Zg==", "Z===", "====", "Zm9v\n", "Zm9v ",
                             "Zm-_", "Zh==", "Zm9="}) {
        CAPTURE(text);
        CHECK_FALSE(from_base64(text));
    }
}

}  // namespace holdwell
