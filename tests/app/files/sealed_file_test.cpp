// Sealed texts come from an independent implementation of the layout (seal_independently.py beside
// this file: ChaCha20, HChaCha20 and Poly1305 from their documents, Argon2id from the reference
// implementation's command), not from the code under test.

#include "app/files/sealed_file.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

using namespace holdwell;

namespace {

// The least that Argon2id takes, so that a test is quick.
constexpr Argon2Cost kQuick{.passes = 1, .memory_bytes = 8192};
constexpr const char* kPassphrase = "three short words";

std::string from_hex(const std::string& hex)
{
    std::string bytes;
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2)
        bytes += static_cast<char>(std::stoi(hex.substr(i, 2), nullptr, 16));
    return bytes;
}

// seal_independently.py "three short words" '{"format": "holdwell plan"}  naïve'
const std::string kElsewhere = from_hex(
    "484f4c445345414c01020200000000000100000000007369787465656e2073616c74792062796465666768696a6b6c"
    "6d"
    "6e6f707172737475767778797a7b88281b0267b9443f1faaa6a8464097d307ca57f01f0eda6edfbb5a0a2777125974"
    "869ff081c31dc22f0f1ff965e68ce19712e8e1");

std::string sealed(const std::string& text)
{
    const auto done = seal(text, kPassphrase, kQuick);
    REQUIRE(done);
    return done.value();
}

void check_refused(const std::string& bytes, const std::string& passphrase = kPassphrase)
{
    const auto opened = unseal(bytes, passphrase);
    REQUIRE_FALSE(opened);
    const std::string& sentence = opened.error().message;
    CHECK(sentence.ends_with("."));
    CHECK(sentence.find('\n') == std::string::npos);
}

}  // namespace

TEST_CASE("a file sealed by an independent implementation opens")
{
    CHECK(is_sealed(kElsewhere));
    const auto opened = unseal(kElsewhere, kPassphrase);
    REQUIRE(opened);
    CHECK(opened.value() == "{\"format\": \"holdwell plan\"}  na\u00efve");
}

TEST_CASE("what is sealed opens again, whatever its length")
{
    // Around the chunk of 64 KiB, and none at all.
    for (const std::size_t length : {0U, 1U, 65'535U, 65'536U, 65'537U, 131'072U, 200'000U}) {
        CAPTURE(length);
        std::string text(length, 'x');
        for (std::size_t i = 0; i < length; ++i) text[i] = static_cast<char>(i * 7);
        const auto opened = unseal(sealed(text), kPassphrase);
        REQUIRE(opened);
        CHECK(opened.value() == text);
    }
}

TEST_CASE("the usual cost is libsodium's moderate one, and stands in the file")
{
    // libsodium's crypto_pwhash.h: OPSLIMIT_MODERATE 3, MEMLIMIT_MODERATE 256 MiB
    CHECK(kUsualCost.passes == 3);
    CHECK(kUsualCost.memory_bytes == 268'435'456);
    const std::string bytes = sealed("x");
    CHECK(bytes.substr(10, 12) == std::string("\x01\0\0\0\0\x20\0\0\0\0\0\0", 12));
}

TEST_CASE("the same text is never sealed the same way twice, and is not to be found in the file")
{
    const std::string text = "hold F4 for eighteen seconds";
    CHECK(sealed(text) != sealed(text));
    CHECK(sealed(text).find("eighteen") == std::string::npos);
}

TEST_CASE("another passphrase opens nothing")
{
    check_refused(kElsewhere, "three short word");
    check_refused(kElsewhere, "Three short words");
    check_refused(kElsewhere, "three short words ");
    check_refused(kElsewhere, "");
}

TEST_CASE("a single changed bit anywhere opens nothing")
{
    for (std::size_t i = 0; i < kElsewhere.size(); ++i) {
        std::string changed = kElsewhere;
        changed[i] = static_cast<char>(changed[i] ^ (1 << (i % 8)));
        CAPTURE(i);
        check_refused(changed);
    }
}

TEST_CASE("a file that was cut or lengthened anywhere opens nothing")
{
    for (std::size_t length = 0; length < kElsewhere.size(); ++length) {
        CAPTURE(length);
        check_refused(kElsewhere.substr(0, length));
    }
    check_refused(kElsewhere + '\0');
    check_refused(kElsewhere + kElsewhere);
}

TEST_CASE("chunks that were left out, exchanged or repeated open nothing")
{
    constexpr std::size_t kHeader = 62;
    constexpr std::size_t kChunk = 65'536 + 17;
    const std::string whole = sealed(std::string(3 * 65'536, 'x'));
    REQUIRE(whole.size() == kHeader + 3 * kChunk);
    const std::string head = whole.substr(0, kHeader);
    const auto chunk = [&](std::size_t i) { return whole.substr(kHeader + i * kChunk, kChunk); };
    CHECK(unseal(head + chunk(0) + chunk(1) + chunk(2), kPassphrase));
    check_refused(head + chunk(0) + chunk(1));
    check_refused(head + chunk(0) + chunk(2));
    check_refused(head + chunk(1) + chunk(0) + chunk(2));
    check_refused(head + chunk(0) + chunk(1) + chunk(1) + chunk(2));
    check_refused(head + chunk(0) + chunk(1) + chunk(2) + chunk(2));
}

TEST_CASE("a header that asks for any amount of memory or time is refused at once")
{
    std::string greedy = kElsewhere;
    for (std::size_t i = 10; i < 22; ++i) greedy[i] = '\xff';
    check_refused(greedy);
}

TEST_CASE("a later version of the layout is told from a wrong passphrase")
{
    std::string later = kElsewhere;
    later[8] = 2;
    CHECK(unseal(later, kPassphrase).error().message ==
          "This file was sealed by a later version of Holdwell; open it with that one.");
}

TEST_CASE("a passphrase needs eight letters, in whatever alphabet")
{
    CHECK_FALSE(seal("x", "", kQuick));
    CHECK_FALSE(seal("x", "seven77", kQuick));
    CHECK_FALSE(seal("x", "\u00e9\u00e9\u00e9\u00e9", kQuick));  // eight bytes, four letters
    CHECK(seal("x", "\u8a9e\u8a9e\u8a9e\u8a9e\u8a9e\u8a9e\u8a9e\u8a9e", kQuick));
}

TEST_CASE("a wrong passphrase is known from the first chunk: nothing more is read")
{
    const std::string whole = sealed(std::string(40 * 65'536, 'x'));
    std::size_t read = 0;
    const TakeBytes take = [&](std::span<char> to) {
        const std::size_t count = std::min(to.size(), whole.size() - read);
        std::copy_n(whole.begin() + static_cast<std::ptrdiff_t>(read), count, to.begin());
        read += count;
        return count;
    };
    CHECK_FALSE(unseal(take, "three other words"));
    CHECK(read == 62 + 65'536 + 17);  // the head and one chunk, as the layout says
    read = 0;
    const auto opened = unseal(take, kPassphrase);
    REQUIRE(opened);
    CHECK(opened.value().size() == 40U * 65'536U);
}
