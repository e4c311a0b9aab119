#include "app/engine/ear_words.h"

namespace holdwell {

std::string doubt_words(Doubt doubt)
{
    switch (doubt) {
    case Doubt::several_sounds:
        return "Something else sounded along, so the note cannot be judged.";
    case Doubt::machine:
        return "This sounds like a machine, not like a voice, so it does not count.";
    case Doubt::noisy_room:
        return "The room was nearly as loud, so the note cannot be judged well.";
    case Doubt::overloaded:
        return "It was too loud for the microphone, so only the time is certain.";
    }
    return {};
}

std::string loudness_words(Loudness loudness)
{
    return loudness == Loudness::much_louder ? "louder than it need be: softer is enough" : "";
}

std::string processing_words(MicrophoneProcessing kind)
{
    if (kind == MicrophoneProcessing::gain_control) {
        return "The computer turns the microphone up and down by itself, so how a note begins "
               "cannot be told. Switch automatic gain off in its sound settings.";
    }
    return "The computer takes away what it holds for noise, so how a note begins cannot be told. "
           "Switch noise suppression off in its sound settings.";
}

}  // namespace holdwell
