#pragma once
// Published figures of healthy voices, by age and sex, each with its source and with how it came
// here: read (mostly the abstract) or from memory.
//
// Where they may stand: on the therapist's page of the baseline, beside a measure taken as the
// source took it (a comfortable sustained vowel, /s/ and /z/). Never beside the hold of a drill,
// which is soft, on a note, and half closed at the lips; never before a client. Figures of low
// confidence are left out.

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

enum class NormOf { phonation_time, s_time, z_time, sz_ratio, speaking_f0, f0_range };
enum class NormSex { female, male, both };
enum class NormMark { read, from_memory };

struct Ratio {
    double value{};
    auto operator<=>(const Ratio&) const = default;
};
using NormFigure = std::variant<Seconds, Ratio, Hertz, Semitones>;

struct Ages {
    int youngest{18};  // years
    int oldest{120};
};
struct Norm {
    NormOf of{NormOf::phonation_time};
    NormSex sex{NormSex::both};
    Ages ages;
    std::optional<NormFigure> mean;
    std::optional<NormFigure> lowest;  // of a usual span
    std::optional<NormFigure> highest;
    const char* people{""};  // who was measured
    const char* source{""};
    NormMark mark{NormMark::read};
};

// All of them, those of one measure together.
std::span<const Norm> norms();
// For a person of this age; both: figures for either sex as well as those for both.
std::vector<Norm> norms_for(NormOf of, NormSex sex, int age);
// "mean 20.9 s", "15.6 to 34.2 s".
std::string in_words(const Norm& norm);
// Stands beside every norm.
extern const char* const kNormCaution;

}  // namespace holdwell
