// The cautions and the help. What they say is common clinical practice: see a physician first when
// hoarseness lasts (Stachler et al., Otolaryngol. Head Neck Surg. 158(1S), S1-S42, 2018: four
// weeks, from memory); when to stop, and when not to practise, are usual advice without a single
// source.

#include "app/ui/present.h"

namespace holdwell {
namespace {

std::vector<TextSection> cautions()
{
    return {
        {"See a physician first",
         "if your voice has been hoarse for four weeks or more, or if anything about it worries "
         "you. Ask before long breaths out if you have a heart or lung condition, high blood "
         "pressure, or have had surgery lately."},
        {"Stop",
         "if it hurts, if your voice grows hoarser, or if you feel dizzy or out of breath. Sit "
         "down, breathe normally, and tell your therapist."},
        {"Do not practise",
         "with a heavy cold or a fever, or while you have been told to rest your voice."},
        {"Soft and easy", "Never squeeze out the last second. The breath decides how long."},
        {"A practice aid",
         "Holdwell times and shows what it hears. It does not examine or diagnose, and it does not "
         "replace care: your therapist decides what is right for you."},
    };
}

}  // namespace

TextView present_welcome()
{
    return {
        .title = "Before you begin",
        .lead = "Holdwell listens while you sing the notes your voice therapist gave you, times "
                "each one, and shows how near it was.",
        .sections = cautions(),
        .keys = {{"Enter", "I have read this", Action::proceed}, {"Esc", "leave", Action::back}}};
}

TextView present_help()
{
    TextView view{.title = "Help",
                  .lead = "Sing when it says so. The clock starts and stops by itself, and it "
                          "listens again after a short rest: no key is needed.",
                  .sections = {{"Space", "pauses, and goes on."},
                               {"Enter", "begins the same note again."},
                               {"H", "plays the note."},
                               {"N", "goes to the next note."},
                               {"C", "chooses note, goal, near enough, and how the window looks."},
                               {"+ and \u2212", "make the words larger and smaller."},
                               {"S, D, B", "sound check, numbers, and how near is near enough."},
                               {"Esc", "goes back, and leaves."}},
                  .keys = {{"Enter", "back", Action::proceed},
                           {"S", "sound check", Action::open_sound_check},
                           {"D", "numbers", Action::open_details},
                           {"B", "show near enough", Action::open_tolerance}}};
    view.sections.emplace_back();  // a little air
    for (TextSection& caution : cautions()) view.sections.push_back(std::move(caution));
    return view;
}

}  // namespace holdwell
