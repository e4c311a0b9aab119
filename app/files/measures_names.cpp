#include "app/files/measures.h"

#include "app/files/record_words.h"

namespace holdwell {

std::string name_of(OnsetClass onset)
{
    switch (onset) {
    case OnsetClass::easy:
        return "easy";
    case OnsetClass::hard:
        return "hard";
    case OnsetClass::breathy:
        return "breathy";
    case OnsetClass::unsure:
        return "unsure";
    }
    return {};
}

std::string name_of(Phonation phonation)
{
    switch (phonation) {
    case Phonation::silence:
        return "silence";
    case Phonation::breath:
        return "breath";
    case Phonation::frication:
        return "frication";
    case Phonation::voiced:
        return "voiced";
    case Phonation::fry:
        return "fry";
    }
    return {};
}

std::string name_of(BreakKind kind) { return kind == BreakKind::jump ? "jump" : "gap"; }

std::string name_of(GlideDirection direction)
{
    return direction == GlideDirection::up ? "up" : "down";
}

std::string name_of(Doubt doubt) { return name_in(kDoubtNames, doubt); }

std::string name_of(MicrophoneProcessing kind)
{
    return kind == MicrophoneProcessing::gain_control ? "gain_control" : "noise_suppression";
}

}  // namespace holdwell
