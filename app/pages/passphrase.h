#pragma once
// A passphrase typed twice, without being seen.

#include <string>

namespace holdwell {

struct Passphrase {
    std::string first{};
    std::string second{};
    bool operator==(const Passphrase&) const = default;
};

// Shorter ones are guessed too soon; chosen by us, with no upper bound.
inline constexpr std::size_t kFewestPassphraseLetters = 8;

// One sentence; empty when it can be used. None at all can: the file is not sealed then.
std::string fault_of(const Passphrase& passphrase);

}  // namespace holdwell
