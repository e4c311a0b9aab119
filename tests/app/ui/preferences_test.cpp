#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "app/base/settings.h"
#include "app/ui/events.h"
#include "app/ui/preferences.h"
#include "app/ui/system_shade.h"

using namespace holdwell;
namespace fs = std::filesystem;

TEST_CASE("what was chosen comes back as it was")
{
    Preferences p;
    p.theme = Theme::dark;
    p.text_percent = 225;
    p.pitch_line = PitchLine::hidden;
    p.cautions = Cautions::read;
    p.target = Note{61};
    p.band = Cents{150.0};
    p.goal = Seconds{25.0};
    CHECK(parse_preferences(text_of(p)) == p);
    CHECK(parse_preferences(text_of({})) == Preferences{});
}

TEST_CASE("nonsense leaves the defaults")
{
    const auto p = parse_preferences("text_percent = 900\nband_cents = -4\ntarget = H9\n"
                                     "goal_s = soon\ntheme = plaid\n= =\nwhat\n\xff\xfe\n");
    CHECK(p == Preferences{});
    CHECK(parse_preferences("target = C7").target == kF4);  // outside C2 .. C6
    CHECK(parse_preferences("  band_cents =  80 \r").band == Cents{80.0});
}

TEST_CASE("a file is written and read, also in a folder that is not there yet")
{
    const fs::path folder = fs::temp_directory_path() / "holdwell-preferences-test";
    fs::remove_all(folder);
    const fs::path path = folder / "in \u00e9 there" / "settings";
    CHECK(load_preferences(path) == Preferences{});
    Preferences p;
    p.text_percent = 150;
    CHECK(save_preferences(path, p).has_value());
    CHECK(load_preferences(path) == p);
    const auto refused = save_preferences(path / "below a file", p);
    REQUIRE(!refused);
    CHECK(refused.error().message.find("could not be saved") != std::string::npos);
    fs::remove_all(folder);
}

TEST_CASE("what others keep among the settings stays, and what is not known any more goes")
{
    const fs::path folder = fs::temp_directory_path() / "holdwell-preferences-others-test";
    fs::remove_all(folder);
    fs::create_directories(folder);
    const fs::path path = folder / "settings";
    std::ofstream{path} << "microphone = a headset\nlater = kept\n";
    Preferences p;
    p.goal = Seconds{20.0};
    p.last_check = CheckedSetup{.microphone = "a headset", .rate = SampleRate{48'000.0}};
    REQUIRE(save_preferences(path, p));
    CHECK(load_preferences(path) == p);
    p.goal.reset();
    p.last_check.reset();
    REQUIRE(save_preferences(path, p));
    CHECK(load_preferences(path) == p);
    const auto settings = settings_in(path);
    const auto has = [&](const std::string& key) {
        return std::ranges::any_of(settings, [&](const Setting& s) { return s.key == key; });
    };
    CHECK(remembered(path, "microphone") == "a headset");
    CHECK(remembered(path, "later") == "kept");
    CHECK_FALSE(has("goal_s"));
    CHECK_FALSE(has("check_rate_hz"));
    fs::remove_all(folder);
}

TEST_CASE("a dark desktop is noticed where it says so")
{
    const fs::path folder = fs::temp_directory_path() / "holdwell-shade-test";
    fs::remove_all(folder);
    fs::create_directories(folder / "gtk-3.0");
    CHECK(system_shade("", folder) == Shade::light);
    CHECK(system_shade("Adwaita:dark", folder) == Shade::dark);
    CHECK(system_shade("Adwaita", folder) == Shade::light);
    std::ofstream{folder / "gtk-3.0" / "settings.ini"}
        << "[Settings]\ngtk-application-prefer-dark-theme = 1\n";
    CHECK(system_shade("", folder) == Shade::dark);
    fs::remove_all(folder);
}

TEST_CASE("keys mean what the screens say they mean")
{
    struct Row {
        Key key;
        Screen screen;
        Action action;
    };
    for (const Row& row : {
             Row{Key::space, Screen::practice, Action::pause_or_resume},
             Row{Key::enter, Screen::practice, Action::proceed},
             Row{Key::letter_h, Screen::practice, Action::hear},
             Row{Key::letter_n, Screen::practice, Action::next_drill},
             Row{Key::escape, Screen::practice, Action::back},
             Row{Key::help, Screen::practice, Action::open_help},
             Row{Key::plus, Screen::practice, Action::larger_text},
             Row{Key::plus, Screen::tolerance, Action::widen_band},
             Row{Key::down, Screen::tolerance, Action::narrow_band},
             Row{Key::digit_3, Screen::tolerance, Action::hear_low_edge},
             Row{Key::letter_r, Screen::no_microphone, Action::reopen_microphone},
             Row{Key::letter_d, Screen::details, Action::back},
             Row{Key::letter_d, Screen::help, Action::open_details},
         }) {
        REQUIRE(event_of(row.key, row.screen));
        CHECK(*event_of(row.key, row.screen) == Event{row.action});
    }
    CHECK(!event_of(Key::letter_n, Screen::welcome));  // the cautions are not skipped by accident
    CHECK(!event_of(Key::space, Screen::welcome));
}
