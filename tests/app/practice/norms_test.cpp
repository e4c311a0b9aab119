#include "app/practice/norms.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

namespace holdwell {
namespace {

bool is_among(const std::vector<Norm>& norms, const std::string& source, const std::string& words)
{
    return std::any_of(norms.begin(), norms.end(), [&](const Norm& norm) {
        return std::string{norm.source}.find(source) != std::string::npos &&
               in_words(norm) == words;
    });
}

}  // namespace

TEST_CASE("published figures are found by measure, sex and age")
{
    struct Row {
        NormOf of;
        NormSex sex;
        int age;
        const char* source;
        const char* figure;
    };
    // From the abstracts of the papers named; those of 1968 and 1971 and the book from memory.
    const Row rows[] = {
        {NormOf::phonation_time, NormSex::female, 5, "Tavares", "mean 6.1 s"},
        {NormOf::phonation_time, NormSex::male, 8, "Tavares", "mean 7.9 s"},
        {NormOf::phonation_time, NormSex::both, 12, "Tavares", "mean 9.0 s"},
        {NormOf::phonation_time, NormSex::male, 40, "Hirano", "mean 34.6 s (15.0 to 62.0 s)"},
        {NormOf::phonation_time, NormSex::female, 40, "Hirano", "mean 25.7 s (14.0 to 40.0 s)"},
        {NormOf::phonation_time, NormSex::female, 66, "J. Voice 25, 709-713", "mean 22.3 s"},
        {NormOf::phonation_time, NormSex::male, 72, "J. Voice 25, 709-713", "mean 23.0 s"},
        {NormOf::phonation_time, NormSex::male, 85, "J. Voice 25, 709-713", "mean 21.1 s"},
        {NormOf::phonation_time, NormSex::female, 85, "J. Voice 25, 709-713", "mean 21.0 s"},
        {NormOf::phonation_time, NormSex::male, 85, "J. Voice 25, 709-713", "mean 23.2 s"},
        {NormOf::s_time, NormSex::female, 22, "Cielo", "15.6 to 34.2 s"},
        {NormOf::sz_ratio, NormSex::female, 22, "Cielo", "0.80 to 1.20"},
        {NormOf::sz_ratio, NormSex::male, 7, "45, 239-246", "0.67 to 0.92"},
        {NormOf::sz_ratio, NormSex::male, 50, "46, 147-149", "mean 1.00"},
        {NormOf::speaking_f0, NormSex::male, 30, "Felippe", "mean 120 Hz"},
        {NormOf::speaking_f0, NormSex::female, 30, "Felippe", "mean 206 Hz"},
        {NormOf::speaking_f0, NormSex::female, 70, "Baken", "165 to 255 Hz"},
        {NormOf::f0_range, NormSex::male, 30, "14, 755-760", "mean 38 semitones"}};
    for (const Row& row : rows) {
        CAPTURE(row.source);
        CAPTURE(row.age);
        CHECK(is_among(norms_for(row.of, row.sex, row.age), row.source, row.figure));
    }
}

TEST_CASE("figures of the other sex or of another age are not given")
{
    for (const Norm& norm : norms_for(NormOf::phonation_time, NormSex::female, 30)) {
        CHECK(norm.sex != NormSex::male);
        CHECK(norm.ages.youngest <= 30);
        CHECK(norm.ages.oldest >= 30);
    }
    CHECK(norms_for(NormOf::phonation_time, NormSex::female, 2).empty());
}

TEST_CASE("every figure has a source, people, and a mean or a span")
{
    CHECK(norms().size() > 15);
    for (const Norm& norm : norms()) {
        CAPTURE(norm.source);
        CHECK(std::string{norm.source}.size() > 10);
        CHECK(std::string{norm.people}.size() > 3);
        CHECK((norm.mean || (norm.lowest && norm.highest)));
        CHECK_FALSE(in_words(norm).empty());
        CHECK(norm.ages.youngest <= norm.ages.oldest);
    }
    CHECK(std::string{kNormCaution}.find("not for the holds of the drills") != std::string::npos);
}

}  // namespace holdwell
