#pragma once
// What a person does at the window, as values: keys and clicks become the same events.

#include <optional>
#include <string>
#include <variant>

#include "app/pages/page.h"
#include "app/practice/drill.h"

namespace holdwell {

enum class Screen {
    welcome,        // the cautions, before the first practice
    sound_check,    // microphone, room and level
    practice,       // one drill
    choices,        // note, band, goal, and how the window looks
    details,        // the numbers, for the therapist
    tolerance,      // the band, widened and narrowed while somebody sings
    starts,         // the therapist names the starts that she hears
    calibration,    // the level that a meter reads
    help,           // keys and cautions
    no_microphone,  // nothing to listen to
    page,           // the page on top of the stack
};

enum class Action {
    proceed,  // the one thing the screen offers: Enter
    pause_or_resume,
    hear,
    next_drill,
    back,  // to the practice; from the practice, out of the program
    open_help,
    open_choices,
    open_details,
    open_tolerance,
    open_sound_check,
    check_again,
    play_demo,
    reopen_microphone,
    open_starts,
    name_easy,
    name_hard,
    name_breathy,
    take_back,
    open_calibration,
    hear_high_edge,
    hear_low_edge,
    widen_band,
    narrow_band,
    larger_text,
    smaller_text,
    up,  // to another row
    down,
    left,  // to another value
    right,
    page_up,
    page_down,
};

// One row of the choices, or one microphone of the list, picked with the mouse.
struct PickRow {
    int row{0};
    bool operator==(const PickRow&) const = default;
};
// A row's value moved by the mouse: +1 or -1.
struct StepRow {
    int row{0};
    int by{0};
    bool operator==(const StepRow&) const = default;
};
struct PickNote {
    Note note;
    DrillKind kind{DrillKind::warm_up_hold};
    bool operator==(const PickNote&) const = default;
};
// Of a page, only what copies trivially: g++ 12 warns of strings in variants. Text that is typed
// and files that are dropped go to the view model by themselves.
using Event = std::variant<Action, PickRow, StepRow, PickNote, PressKey, PickPageRow, StepPageRow>;

// What the calendar says: told whenever the window wakes, so that a page of today never shows
// yesterday.
struct DayIs {
    Date day{};
};

enum class Key {
    enter,
    space,
    escape,
    up,
    down,
    left,
    right,
    page_up,
    page_down,
    help,  // F1 or ?
    tab,
    shift_tab,
    erase,
    plus,
    minus,
    letter_b,
    letter_c,
    letter_d,
    letter_h,
    letter_l,
    letter_m,
    letter_n,
    letter_p,
    letter_r,
    letter_s,
    letter_u,
    digit_1,
    digit_2,
    digit_3,
};

// What a key means on a screen; nothing where it means nothing.
std::optional<Event> event_of(Key key, Screen screen);
// What a character means on a page where no text is being typed.
std::optional<Event> page_event_of(char32_t character);
// Empty for a control character.
std::string utf8_of(char32_t character);

}  // namespace holdwell
