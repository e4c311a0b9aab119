#include "app/practice/norms.h"

#include <array>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

namespace holdwell {
namespace {

constexpr Ages kAdults{18, 120};
constexpr const char* kMaslan = "Maslan et al., J. Voice 25, 709-713, 2011";
constexpr const char* kTavares = "Tavares et al., J. Voice 26, 2012";
constexpr const char* kHirano = "Hirano, Koike and von Leden, Folia Phoniatr. 20, 185-201, 1968";
constexpr const char* kCielo = "Cielo et al., Rev. CEFAC 15(5)";
constexpr const char* kEckel = "Eckel and Boone, J. Speech Hear. Disord. 46, 147-149, 1981";
constexpr const char* kTait =
    "Tait, Michel and Carpenter, J. Speech Hear. Disord. 45, 239-246, 1980";
constexpr const char* kFelippe = "Felippe et al., Braz. J. Otorhinolaryngol., 2006";
constexpr const char* kHollien = "Hollien, Dew and Philips, J. Speech Hear. Res. 14, 755-760, 1971";
constexpr const char* kTextbook = "Baken and Orlikoff, Clinical measurement of speech and voice, "
                                  "2nd ed., 2000";

constexpr NormFigure s(double seconds) { return Seconds{seconds}; }
constexpr NormFigure ratio(double value) { return Ratio{value}; }
constexpr NormFigure hz(double value) { return Hertz{value}; }
constexpr NormFigure st(double value) { return Semitones{value}; }

// A mean alone.
constexpr Norm mean_of(NormOf of, NormSex sex, Ages ages, NormFigure mean)
{
    return {.of = of, .sex = sex, .ages = ages, .mean = mean, .lowest = {}, .highest = {}};
}
constexpr Norm span_of(NormOf of, NormSex sex, Ages ages, std::pair<NormFigure, NormFigure> span)
{
    return {.of = of,
            .sex = sex,
            .ages = ages,
            .mean = {},
            .lowest = span.first,
            .highest = span.second};
}
constexpr Norm from(Norm norm, const char* source, const char* people, NormMark mark)
{
    norm.source = source;
    norm.people = people;
    norm.mark = mark;
    return norm;
}
constexpr Norm between(Norm norm, NormFigure lowest, NormFigure highest)
{
    norm.lowest = lowest;
    norm.highest = highest;
    return norm;
}

using enum NormOf;
constexpr NormSex kMen = NormSex::male;
constexpr NormSex kWomen = NormSex::female;
constexpr NormSex kBoth = NormSex::both;
constexpr NormMark kRead = NormMark::read;
constexpr NormMark kRecalled = NormMark::from_memory;

constexpr std::array kNorms{
    // A comfortable sustained vowel, as long as possible.
    from(mean_of(phonation_time, kBoth, {4, 6}, s(6.09)), kTavares, "1660 children of 4 to 12",
         kRead),
    from(mean_of(phonation_time, kBoth, {7, 9}, s(7.94)), kTavares, "1660 children of 4 to 12",
         kRead),
    from(mean_of(phonation_time, kBoth, {10, 12}, s(8.98)), kTavares, "1660 children of 4 to 12",
         kRead),
    from(between(mean_of(phonation_time, kMen, {18, 59}, s(34.6)), s(15.0), s(62.0)), kHirano,
         "adults", kRecalled),
    from(between(mean_of(phonation_time, kWomen, {18, 59}, s(25.7)), s(14.0), s(40.0)), kHirano,
         "adults", kRecalled),
    from(mean_of(phonation_time, kBoth, {60, 69}, s(22.27)), kMaslan, "69 people over 60", kRead),
    from(mean_of(phonation_time, kBoth, {70, 79}, s(22.97)), kMaslan, "69 people over 60", kRead),
    from(mean_of(phonation_time, kBoth, {80, 89}, s(21.14)), kMaslan, "69 people over 60", kRead),
    from(mean_of(phonation_time, kWomen, {60, 89}, s(20.96)), kMaslan, "69 people over 60", kRead),
    from(mean_of(phonation_time, kMen, {60, 89}, s(23.23)), kMaslan, "69 people over 60", kRead),
    // /s/ and /z/
    from(span_of(s_time, kWomen, {18, 30}, {s(15.6), s(34.2)}), kCielo, "60 women of about 22",
         kRead),
    from(span_of(z_time, kWomen, {18, 30}, {s(15.6), s(34.2)}), kCielo, "60 women of about 22",
         kRead),
    from(span_of(sz_ratio, kBoth, {5, 9}, {ratio(0.67), ratio(0.92)}), kTait, "children of 5 to 9",
         kRead),
    from(mean_of(sz_ratio, kBoth, {4, 12}, ratio(1.0)), kTavares, "1660 children of 4 to 12",
         kRead),
    from(span_of(sz_ratio, kWomen, {18, 30}, {ratio(0.8), ratio(1.2)}), kCielo,
         "60 women of about 22", kRead),
    from(mean_of(sz_ratio, kBoth, kAdults, ratio(1.0)), kEckel, "86 adults without a voice problem",
         kRead),
    // f0
    from(mean_of(speaking_f0, kMen, {20, 45}, hz(119.8)), kFelippe, "20 men, sustained /a/", kRead),
    from(mean_of(speaking_f0, kWomen, {20, 45}, hz(205.8)), kFelippe, "20 women, sustained /a/",
         kRead),
    from(span_of(speaking_f0, kMen, kAdults, {hz(85.0), hz(155.0)}), kTextbook, "adults",
         kRecalled),
    from(span_of(speaking_f0, kWomen, kAdults, {hz(165.0), hz(255.0)}), kTextbook, "adults",
         kRecalled),
    from(mean_of(f0_range, kMen, kAdults, st(38.0)), kHollien, "adults, whole range", kRecalled),
    from(mean_of(f0_range, kWomen, kAdults, st(37.0)), kHollien, "adults, whole range", kRecalled),
};

bool is_for(const Norm& norm, NormSex sex)
{
    return norm.sex == sex || norm.sex == NormSex::both || sex == NormSex::both;
}

struct FigureText {
    std::string number;
    const char* unit;
};
FigureText text_of(const NormFigure& figure)
{
    if (const auto* time = std::get_if<Seconds>(&figure))
        return {fmt::format("{:.1f}", time->count()), " s"};
    if (const auto* share = std::get_if<Ratio>(&figure))
        return {fmt::format("{:.2f}", share->value), ""};
    if (const auto* f0 = std::get_if<Hertz>(&figure))
        return {fmt::format("{:.0f}", f0->value), " Hz"};
    return {fmt::format("{:.0f}", std::get<Semitones>(figure).value), " semitones"};
}

}  // namespace

const char* const kNormCaution =
    "For a comfortable sustained vowel, /s/ or /z/ only, not for the holds of the drills. How a "
    "person is asked and encouraged changes these times; they do not diagnose.";

std::span<const Norm> norms() { return kNorms; }

std::vector<Norm> norms_for(NormOf of, NormSex sex, int age)
{
    std::vector<Norm> found;
    for (const Norm& norm : kNorms)
        if (norm.of == of && is_for(norm, sex) && age >= norm.ages.youngest &&
            age <= norm.ages.oldest)
            found.push_back(norm);
    return found;
}

std::string in_words(const Norm& norm)
{
    std::string words;
    if (norm.mean) {
        const FigureText mean = text_of(*norm.mean);
        words = "mean " + mean.number + mean.unit;
    }
    if (!norm.lowest || !norm.highest) return words;
    const FigureText lowest = text_of(*norm.lowest);
    const FigureText highest = text_of(*norm.highest);
    const std::string span = lowest.number + " to " + highest.number + highest.unit;
    return words.empty() ? span : words + " (" + span + ")";
}

}  // namespace holdwell
