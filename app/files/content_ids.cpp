#include <sodium.h>

#include <array>
#include <string_view>

#include "app/files/field_visitors.h"
#include "app/files/practice_file.h"

namespace holdwell {

namespace {

Id id_of(std::string_view text)
{
    constexpr std::size_t kBytes = 16;
    static_assert(kBytes >= crypto_generichash_BYTES_MIN);
    const std::vector<unsigned char> bytes{text.begin(), text.end()};
    std::array<unsigned char, kBytes> hash{};
    crypto_generichash(hash.data(), hash.size(), bytes.data(), bytes.size(), nullptr, 0);
    std::array<char, 2 * kBytes + 1> hex{};
    sodium_bin2hex(hex.data(), hex.size(), hash.data(), hash.size());
    return {hex.data()};
}

}  // namespace

Practice renamed_by_content(Practice practice)
{
    FieldWriter fields{{}};
    describe(fields, practice);
    practice.id = id_of(fields.take().dump());
    for (Trial& trial : practice.trials) trial.id = id_of(practice.id.text + trial.id.text);
    return practice;
}

Plan renamed_by_content(Plan plan)
{
    plan.id = id_of(json_of(plan).dump());
    return plan;
}

}  // namespace holdwell
