#include "app/pages/passphrase.h"

#include <algorithm>

namespace holdwell {
namespace {

std::size_t letters_in(const std::string& text)
{
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

}  // namespace

std::string fault_of(const Passphrase& passphrase)
{
    if (passphrase.first.empty() && passphrase.second.empty()) return {};
    if (letters_in(passphrase.first) < kFewestPassphraseLetters)
        return "Eight letters at least: three or four words that belong to nobody else are good.";
    if (passphrase.first != passphrase.second) return "The two are not the same yet.";
    return {};
}

}  // namespace holdwell
