#include "app/ui/events.h"

#include <array>

namespace holdwell {
namespace {

struct Meaning {
    Key key;
    Action action;
};

constexpr std::array kEverywhere{
    Meaning{Key::enter, Action::proceed},       Meaning{Key::escape, Action::back},
    Meaning{Key::help, Action::open_help},      Meaning{Key::up, Action::up},
    Meaning{Key::down, Action::down},           Meaning{Key::left, Action::left},
    Meaning{Key::right, Action::right},         Meaning{Key::page_up, Action::page_up},
    Meaning{Key::page_down, Action::page_down}, Meaning{Key::plus, Action::larger_text},
    Meaning{Key::minus, Action::smaller_text},
};
constexpr std::array kPractice{
    Meaning{Key::space, Action::pause_or_resume},
    Meaning{Key::letter_h, Action::hear},
    Meaning{Key::letter_n, Action::next_drill},
    Meaning{Key::letter_c, Action::open_choices},
    Meaning{Key::letter_d, Action::open_details},
    Meaning{Key::letter_b, Action::open_tolerance},
    Meaning{Key::letter_s, Action::open_sound_check},
};
constexpr std::array kTolerance{
    Meaning{Key::up, Action::widen_band},          Meaning{Key::plus, Action::widen_band},
    Meaning{Key::right, Action::widen_band},       Meaning{Key::down, Action::narrow_band},
    Meaning{Key::minus, Action::narrow_band},      Meaning{Key::left, Action::narrow_band},
    Meaning{Key::letter_h, Action::hear},          Meaning{Key::digit_1, Action::hear},
    Meaning{Key::digit_2, Action::hear_high_edge}, Meaning{Key::digit_3, Action::hear_low_edge},
};
constexpr std::array kNoMicrophone{
    Meaning{Key::letter_p, Action::play_demo},
    Meaning{Key::letter_r, Action::reopen_microphone},
};
constexpr std::array kHelp{
    Meaning{Key::letter_d, Action::open_details},
    Meaning{Key::letter_b, Action::open_tolerance},
    Meaning{Key::letter_s, Action::open_sound_check},
    Meaning{Key::letter_c, Action::open_choices},
};
constexpr std::array kSoundCheck{Meaning{Key::letter_r, Action::check_again}};

template <std::size_t N>
std::optional<Event> find_in(const std::array<Meaning, N>& meanings, Key key)
{
    for (const Meaning& m : meanings) {
        if (m.key == key) return Event{m.action};
    }
    return std::nullopt;
}

std::optional<Event> event_of_screen(Key key, Screen screen)
{
    switch (screen) {
    case Screen::practice:
        return find_in(kPractice, key);
    case Screen::tolerance:
        return find_in(kTolerance, key);
    case Screen::no_microphone:
        return find_in(kNoMicrophone, key);
    case Screen::sound_check:
        return find_in(kSoundCheck, key);
    case Screen::details:
        return key == Key::letter_d ? std::optional{Event{Action::back}} : std::nullopt;
    case Screen::help:
        return find_in(kHelp, key);
    case Screen::welcome:
    case Screen::choices:
        return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Event> event_of(Key key, Screen screen)
{
    if (const auto own = event_of_screen(key, screen)) return own;
    return find_in(kEverywhere, key);
}

}  // namespace holdwell
