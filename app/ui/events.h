#pragma once
// What a person does at the window, as values: keys and clicks become the same events.

#include <optional>
#include <variant>

#include "app/practice/drill.h"

namespace holdwell {

enum class Screen {
    welcome,        // the cautions, before the first practice
    sound_check,    // microphone, room and level
    practice,       // one drill
    choices,        // note, band, goal, and how the window looks
    details,        // the numbers, for the therapist
    tolerance,      // the band, widened and narrowed while somebody sings
    help,           // keys and cautions
    no_microphone,  // nothing to listen to
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
using Event = std::variant<Action, PickRow, StepRow, PickNote>;

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
    plus,
    minus,
    letter_b,
    letter_c,
    letter_d,
    letter_h,
    letter_n,
    letter_p,
    letter_r,
    letter_s,
    digit_1,
    digit_2,
    digit_3,
};

// What a key means on a screen; nothing where it means nothing.
std::optional<Event> event_of(Key key, Screen screen);

}  // namespace holdwell
