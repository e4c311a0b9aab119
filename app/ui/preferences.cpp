#include "app/ui/preferences.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <sstream>
#include <system_error>
#include <utility>
#include <vector>

#include "app/base/settings.h"
#include "app/engine/sound_memory.h"

namespace holdwell {
namespace {

std::string_view trimmed(std::string_view text)
{
    constexpr std::string_view kBlank = " \t\r";
    const auto first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

std::optional<int> parse_whole(std::string_view text)
{
    int value = 0;
    const auto end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || stop != end) return std::nullopt;
    return value;
}

std::optional<int> parse_within(std::string_view text, int lowest, int highest)
{
    const auto value = parse_whole(text);
    if (!value || *value < lowest || *value > highest) return std::nullopt;
    return value;
}

std::string_view name_of(Theme theme)
{
    switch (theme) {
    case Theme::light:
        return "light";
    case Theme::dark:
        return "dark";
    case Theme::automatic:
        break;
    }
    return "automatic";
}

Theme theme_named(std::string_view name)
{
    if (name == "light") return Theme::light;
    if (name == "dark") return Theme::dark;
    return Theme::automatic;
}

struct Line {
    std::string_view name;
    std::string_view value;
};

Preferences with_look(Preferences p, const Line& s)
{
    if (s.name == "theme") p.theme = theme_named(s.value);
    if (s.name == "pitch_line") {
        p.pitch_line = s.value == "hidden" ? PitchLine::hidden : PitchLine::shown;
    }
    if (s.name == "cautions") p.cautions = s.value == "read" ? Cautions::read : Cautions::unread;
    if (s.name == "text_percent") {
        p.text_percent =
            parse_within(s.value, kSmallestText, kLargestText).value_or(p.text_percent);
    }
    return p;
}

Preferences with_drill(Preferences p, const Line& s)
{
    if (s.name == "target") {
        const auto note = parse_note(s.value);
        if (note && *note >= kLowestTarget && *note <= kHighestTarget) p.target = *note;
    }
    if (s.name == "band_cents") {
        const auto band = parse_within(s.value, static_cast<int>(kNarrowestBand.value),
                                       static_cast<int>(kWidestBand.value));
        if (band) p.band = Cents{static_cast<double>(*band)};
    }
    if (s.name == "goal_s") {
        const auto goal = parse_within(s.value, 1, static_cast<int>(kLongestGoal.count()));
        if (goal) p.goal = Seconds{static_cast<double>(*goal)};
    }
    return p;
}

bool may_be_absent(std::string_view key)
{
    return key == "goal_s" || key.starts_with("spl_") || key.starts_with("check_");
}

std::vector<Setting> settings_of(const Preferences& preferences)
{
    std::vector<Setting> settings;
    std::istringstream lines{text_of(preferences)};
    for (std::string line; std::getline(lines, line);) {
        const std::size_t equals = line.find(" = ");
        settings.push_back({line.substr(0, equals), line.substr(equals + 3)});
    }
    return settings;
}

}  // namespace

std::string text_of(const Preferences& p)
{
    std::string text =
        fmt::format("theme = {}\ntext_percent = {}\npitch_line = {}\n", name_of(p.theme),
                    p.text_percent, p.pitch_line == PitchLine::hidden ? "hidden" : "shown");
    text += fmt::format("cautions = {}\n", p.cautions == Cautions::read ? "read" : "unread");
    text += fmt::format("target = {}\nband_cents = {:.0f}\n", holdwell::name_of(p.target),
                        p.band.value);
    if (p.goal) text += fmt::format("goal_s = {:.0f}\n", p.goal->count());
    return text + sound_text_of({.spl = p.spl, .last_check = p.last_check});
}

Preferences parse_preferences(std::string_view text)
{
    Preferences p;
    SoundMemory sound;
    while (!text.empty()) {
        const auto end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        const auto equals = line.find('=');
        if (equals == std::string_view::npos) continue;
        const Line s{trimmed(line.substr(0, equals)), trimmed(line.substr(equals + 1))};
        p = with_drill(with_look(std::move(p), s), s);
        sound = with_sound(std::move(sound), s.name, s.value);
    }
    sound = with_whole_sound_only(std::move(sound));
    p.spl = sound.spl;
    p.last_check = sound.last_check;
    return p;
}

Preferences load_preferences(const std::filesystem::path& path)
{
    std::string text;
    for (const Setting& setting : settings_in(path))
        text += fmt::format("{} = {}\n", setting.key, setting.value.value_or(""));
    return parse_preferences(text);
}

Outcome save_preferences(const std::filesystem::path& path, const Preferences& preferences)
{
    std::vector<Setting> settings = settings_of(preferences);
    // What is not known any more goes out of the file.
    for (const Setting& there : settings_in(path)) {
        const auto is_it = [&](const Setting& s) { return s.key == there.key; };
        if (may_be_absent(there.key) && std::ranges::none_of(settings, is_it))
            settings.push_back({there.key, std::nullopt});
    }
    return remember(path, settings);
}

}  // namespace holdwell
