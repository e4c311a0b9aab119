// The cautions and the help. What the cautions say, and why: app/practice/cautions.h.

#include "app/practice/cautions.h"
#include "app/ui/present.h"

namespace holdwell {
namespace {

std::vector<TextSection> caution_sections()
{
    std::vector<TextSection> sections;
    for (const CautionText& caution : cautions()) sections.push_back({caution.title, caution.text});
    return sections;
}

}  // namespace

TextView present_welcome()
{
    return {
        .title = "Before you begin",
        .lead = "Holdwell listens while you sing the notes your voice therapist gave you, times "
                "each one, and shows how near it was.",
        .sections = caution_sections(),
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
    for (TextSection& caution : caution_sections()) view.sections.push_back(std::move(caution));
    return view;
}

}  // namespace holdwell
