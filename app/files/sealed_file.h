#pragma once
// A file under a passphrase: unreadable without it, and refused when a single bit of it was
// changed.
//
// Layout; numbers are little-endian:
//   8 bytes   "HOLDSEAL"
//   1 byte    version, 1
//   1 byte    way from passphrase to key, 2: Argon2id v1.3 (RFC 9106), one lane
//   4 bytes   passes over the memory
//   8 bytes   memory in bytes
//  16 bytes   salt
//  24 bytes   header of the stream
//   then chunks: XChaCha20-Poly1305 as libsodium's secretstream, 64 KiB of text and 17 bytes more
//   in each; the last is shorter and carries the tag `final`. The 62 bytes before them are
//   authenticated with the first chunk.
//
// The costs stand in the file, so that they can be raised and older files still be opened. Someone
// who guesses passphrases needs the whole cost for each guess; against a short passphrase this is
// not enough, and there is no way back into a file whose passphrase is forgotten.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>

#include "app/base/result.h"

namespace holdwell {

struct Argon2Cost {
    std::uint32_t passes{3};                  // 1 .. 64
    std::uint64_t memory_bytes{256U << 20U};  // 8 KiB .. 1 GiB
};
// libsodium's "moderate": about a second and 256 MiB on a computer of 2015.
inline constexpr Argon2Cost kUsualCost{};

bool is_sealed(std::string_view bytes);

inline constexpr std::size_t kShortestPassphrase = 8;  // letters; chosen by us

// One sentence when the passphrase is too short.
Result<std::string> seal(std::string_view bytes, std::string_view passphrase,
                         const Argon2Cost& cost = kUsualCost);

// Bytes of a file, one after the other: how many were put at the front of `to`, all that are wanted
// unless the file ends.
using TakeBytes = std::function<std::size_t(std::span<char> to)>;

// All of it, or one sentence: a passphrase that does not fit and a file that was changed cannot be
// told apart. What does not fit is known from the first chunk, with no more read and no more memory
// used than that and what the passphrase costs.
Result<std::string> unseal(const TakeBytes& take, std::string_view passphrase);
Result<std::string> unseal(std::string_view sealed, std::string_view passphrase);

}  // namespace holdwell
