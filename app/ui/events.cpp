#include "app/ui/events.h"

#include <array>
#include <string>

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
constexpr std::array kDetails{
    Meaning{Key::letter_d, Action::back},
    Meaning{Key::letter_l, Action::open_starts},
    Meaning{Key::letter_m, Action::open_calibration},
};
constexpr std::array kStarts{
    Meaning{Key::digit_1, Action::name_easy},
    Meaning{Key::digit_2, Action::name_hard},
    Meaning{Key::digit_3, Action::name_breathy},
    Meaning{Key::letter_u, Action::take_back},
};
constexpr std::array kCalibration{Meaning{Key::letter_u, Action::take_back}};
constexpr std::array kSoundCheck{Meaning{Key::letter_r, Action::check_again}};

// Letters, space, plus and minus come to a page as characters.
std::optional<Event> event_of_page(Key key)
{
    using PageKey = PressKey::Key;
    const auto pressed = [](PageKey k) { return Event{PressKey{.key = k}}; };
    switch (key) {
    case Key::enter:
        return pressed(PageKey::proceed);
    case Key::escape:
        return pressed(PageKey::back);
    case Key::up:
    case Key::shift_tab:
        return pressed(PageKey::up);
    case Key::down:
    case Key::tab:
        return pressed(PageKey::down);
    case Key::left:
        return pressed(PageKey::left);
    case Key::right:
        return pressed(PageKey::right);
    case Key::erase:
        return pressed(PageKey::erase);
    case Key::page_up:
        return Event{Action::page_up};
    case Key::page_down:
        return Event{Action::page_down};
    case Key::help:
        return Event{Action::open_help};
    default:
        return std::nullopt;
    }
}

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
        return find_in(kDetails, key);
    case Screen::starts:
        return find_in(kStarts, key);
    case Screen::calibration:
        return find_in(kCalibration, key);
    case Screen::help:
        return find_in(kHelp, key);
    case Screen::welcome:
    case Screen::choices:
    case Screen::page:
        return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Event> event_of(Key key, Screen screen)
{
    if (screen == Screen::page) return event_of_page(key);
    if (const auto own = event_of_screen(key, screen)) return own;
    return find_in(kEverywhere, key);
}

std::optional<Event> page_event_of(char32_t c)
{
    if (c == U' ') return Event{PressKey{.key = PressKey::Key::space}};
    if (c == U'+' || c == U'=') return Event{Action::larger_text};
    if (c == U'-') return Event{Action::smaller_text};
    if (c == U'?') return Event{Action::open_help};
    if (c >= U'0' && c <= U'9') {
        return Event{PressKey{.key = PressKey::Key::letter, .letter = static_cast<char>(c)}};
    }
    const bool is_small = c >= U'a' && c <= U'z';
    if (!is_small && (c < U'A' || c > U'Z')) return std::nullopt;
    const auto letter = static_cast<char>(is_small ? c - U'a' + U'A' : c);
    return Event{PressKey{.key = PressKey::Key::letter, .letter = letter}};
}

std::string utf8_of(char32_t c)
{
    const auto tail = [c](int shift) { return static_cast<char>(0x80U | ((c >> shift) & 0x3FU)); };
    if (c < U' ' || c == 0x7FU) return {};
    if (c < 0x80U) return {static_cast<char>(c)};
    if (c < 0x800U) return {static_cast<char>(0xC0U | (c >> 6U)), tail(0)};
    if (c < 0x10000U) return {static_cast<char>(0xE0U | (c >> 12U)), tail(6), tail(0)};
    return {static_cast<char>(0xF0U | (c >> 18U)), tail(12), tail(6), tail(0)};
}

}  // namespace holdwell
