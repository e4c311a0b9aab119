#include "app/files/sealed_file.h"

#include <fmt/format.h>
#include <sodium.h>

#include <algorithm>
#include <array>
#include <optional>
#include <vector>

namespace holdwell {

namespace {

constexpr std::string_view kMagic = "HOLDSEAL";
constexpr unsigned char kVersion = 1;
constexpr unsigned char kArgon2id = 2;
static_assert(kArgon2id == crypto_pwhash_ALG_ARGON2ID13);

constexpr std::size_t kChunk = 64U * 1024U;
constexpr std::size_t kSealedChunk = kChunk + crypto_secretstream_xchacha20poly1305_ABYTES;

constexpr std::size_t kSaltAt = kMagic.size() + 1 + 1 + 4 + 8;
constexpr std::size_t kStreamAt = kSaltAt + crypto_pwhash_SALTBYTES;
constexpr std::size_t kHeader = kStreamAt + crypto_secretstream_xchacha20poly1305_HEADERBYTES;
static_assert(kHeader == 62);

constexpr std::uint32_t kMostPasses = 16;
constexpr std::uint64_t kMostMemory = 1024U * 1024U * 1024U;
// Passes times memory: some five times what our own files cost.
constexpr std::uint64_t kMostWork = 4 * kMostMemory;

using Bytes = std::vector<unsigned char>;

Bytes bytes_of(std::string_view text) { return {text.begin(), text.end()}; }

const Error kDoesNotOpen{
    "The passphrase does not fit this file, or the file was changed on its way; nothing was read."};

// ---- the header ----------------------------------------------------------------------------

struct Header {
    Argon2Cost cost;
    std::array<unsigned char, crypto_pwhash_SALTBYTES> salt{};
    std::array<unsigned char, crypto_secretstream_xchacha20poly1305_HEADERBYTES> stream{};
};

void append_number(Bytes& to, std::uint64_t value, int bytes)
{
    for (int i = 0; i < bytes; ++i) to.push_back(static_cast<unsigned char>(value >> (8 * i)));
}

std::uint64_t number_at(const Bytes& from, std::size_t at, std::size_t bytes)
{
    std::uint64_t value = 0;
    for (std::size_t i = bytes; i-- > 0;) value = (value << 8U) | from[at + i];
    return value;
}

Bytes written(const Header& header)
{
    Bytes bytes;
    bytes.reserve(kHeader);
    bytes.assign(kMagic.begin(), kMagic.end());
    bytes.push_back(kVersion);
    bytes.push_back(kArgon2id);
    append_number(bytes, header.cost.passes, 4);
    append_number(bytes, header.cost.memory_bytes, 8);
    bytes.insert(bytes.end(), header.salt.begin(), header.salt.end());
    bytes.insert(bytes.end(), header.stream.begin(), header.stream.end());
    return bytes;
}

// Before anything is believed: a changed file may ask for any amount of memory or time.
bool is_bearable(const Argon2Cost& cost)
{
    return cost.passes >= crypto_pwhash_OPSLIMIT_MIN && cost.passes <= kMostPasses &&
           cost.memory_bytes >= crypto_pwhash_MEMLIMIT_MIN && cost.memory_bytes <= kMostMemory &&
           cost.passes * cost.memory_bytes <= kMostWork;
}

Result<Header> header_in(const Bytes& sealed)
{
    if (sealed.size() > kMagic.size() && sealed[kMagic.size()] > kVersion)
        return Error{"This file was sealed by a later version of Holdwell; open it with that one."};
    if (sealed.size() < kHeader || sealed[kMagic.size()] != kVersion ||
        sealed[kMagic.size() + 1] != kArgon2id)
        return kDoesNotOpen;
    Header header;
    header.cost.passes = static_cast<std::uint32_t>(number_at(sealed, kMagic.size() + 2, 4));
    header.cost.memory_bytes = number_at(sealed, kMagic.size() + 6, 8);
    if (!is_bearable(header.cost)) return kDoesNotOpen;
    std::copy_n(&sealed[kSaltAt], header.salt.size(), header.salt.begin());
    std::copy_n(&sealed[kStreamAt], header.stream.size(), header.stream.begin());
    return header;
}

// ---- the key, and a stream under it ----------------------------------------------------------

// Wiped when it goes.
struct Key {
    std::array<unsigned char, crypto_secretstream_xchacha20poly1305_KEYBYTES> bytes{};
    ~Key() { sodium_memzero(bytes.data(), bytes.size()); }
};

Outcome derive(Key& key, std::string_view passphrase, const Header& header)
{
    const int failed = crypto_pwhash(key.bytes.data(), key.bytes.size(), passphrase.data(),
                                     passphrase.size(), header.salt.data(), header.cost.passes,
                                     header.cost.memory_bytes, crypto_pwhash_ALG_ARGON2ID13);
    if (failed == 0) return Done{};
    return Error{fmt::format("There is not enough free memory for the passphrase: {} MiB are "
                             "needed; close other programs and try again.",
                             header.cost.memory_bytes >> 20U)};
}

struct Stream {
    crypto_secretstream_xchacha20poly1305_state state{};
    ~Stream() { sodium_memzero(&state, sizeof state); }
};

void push_chunks(Stream& stream, const Bytes& text, Bytes& sealed)
{
    const Bytes header = sealed;  // authenticated with the first chunk
    std::size_t done = 0;
    do {
        const std::size_t length = std::min(kChunk, text.size() - done);
        const bool is_last = done + length == text.size();
        const std::size_t at = sealed.size();
        sealed.resize(at + length + crypto_secretstream_xchacha20poly1305_ABYTES);
        crypto_secretstream_xchacha20poly1305_push(
            &stream.state, &sealed[at], nullptr, text.data() + done, length,
            done == 0 ? header.data() : nullptr, done == 0 ? header.size() : 0,
            is_last ? crypto_secretstream_xchacha20poly1305_TAG_FINAL
                    : crypto_secretstream_xchacha20poly1305_TAG_MESSAGE);
        done += length;
    } while (done < text.size());
}

// The next bytes, fewer than so many at the end of the file.
Bytes taken(const TakeBytes& take, std::size_t most)
{
    std::string bytes(most, '\0');
    bytes.resize(take(bytes));
    return bytes_of(bytes);
}

struct Chunk {
    Bytes text;
    bool is_final{false};
};

// Nothing when it is not authentic. `header`: authenticated with the first chunk; else empty.
std::optional<Chunk> pull(Stream& stream, const Bytes& sealed, const Bytes& header)
{
    Chunk chunk{.text = Bytes(kChunk)};
    unsigned long long got = 0;
    unsigned char tag = 0;
    if (crypto_secretstream_xchacha20poly1305_pull(&stream.state, chunk.text.data(), &got, &tag,
                                                   sealed.data(), sealed.size(), header.data(),
                                                   header.size()) != 0)
        return std::nullopt;
    chunk.text.resize(got);
    chunk.is_final = tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL;
    return chunk;
}

// The text, if every chunk is authentic and the last one is the final one.
std::optional<std::string> pull_all(Stream& stream, const TakeBytes& take, Bytes header)
{
    std::string text;
    Bytes sealed = taken(take, kSealedChunk);
    if (sealed.empty()) return std::nullopt;
    while (!sealed.empty()) {
        const auto chunk = pull(stream, sealed, header);
        if (!chunk) return std::nullopt;
        header.clear();
        text.append(chunk->text.begin(), chunk->text.end());
        sealed = taken(take, kSealedChunk);
        if (chunk->is_final != sealed.empty()) return std::nullopt;
    }
    return text;
}

std::size_t letters_in(std::string_view text)
{
    // Bytes that begin a letter of UTF-8.
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

Outcome library_is_ready()
{
    if (sodium_init() >= 0) return Done{};
    return Error{"This computer gives no random numbers; start it again."};
}

}  // namespace

bool is_sealed(std::string_view bytes) { return bytes.starts_with(kMagic); }

Result<std::string> seal(std::string_view bytes, std::string_view passphrase,
                         const Argon2Cost& cost)
{
    if (letters_in(passphrase) < kShortestPassphrase)
        return Error{fmt::format("A passphrase needs {} letters or more; three or four words are "
                                 "easy to remember and hard to guess.",
                                 kShortestPassphrase)};
    if (const auto ready = library_is_ready(); !ready) return ready.error();
    Header header{.cost = cost};
    randombytes_buf(header.salt.data(), header.salt.size());
    Key key;
    if (const auto derived = derive(key, passphrase, header); !derived) return derived.error();
    Stream stream;
    crypto_secretstream_xchacha20poly1305_init_push(&stream.state, header.stream.data(),
                                                    key.bytes.data());
    Bytes sealed = written(header);
    push_chunks(stream, bytes_of(bytes), sealed);
    return std::string{sealed.begin(), sealed.end()};
}

Result<std::string> unseal(const TakeBytes& take, std::string_view passphrase)
{
    const Bytes head = taken(take, kHeader);
    if (!is_sealed({reinterpret_cast<const char*>(head.data()), head.size()}))
        return Error{"This is not a sealed file."};
    if (const auto ready = library_is_ready(); !ready) return ready.error();
    const auto header = header_in(head);
    if (!header) return header.error();
    Key key;
    if (const auto derived = derive(key, passphrase, header.value()); !derived)
        return derived.error();
    Stream stream;
    crypto_secretstream_xchacha20poly1305_init_pull(&stream.state, header.value().stream.data(),
                                                    key.bytes.data());
    auto text = pull_all(stream, take, head);
    if (!text) return kDoesNotOpen;
    return std::move(*text);
}

Result<std::string> unseal(std::string_view sealed, std::string_view passphrase)
{
    const TakeBytes take = [&sealed](std::span<char> to) {
        const std::size_t count = std::min(to.size(), sealed.size());
        std::copy_n(sealed.begin(), count, to.begin());
        sealed.remove_prefix(count);
        return count;
    };
    return unseal(take, passphrase);
}

}  // namespace holdwell
