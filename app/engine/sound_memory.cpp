#include "app/engine/sound_memory.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <sstream>
#include <system_error>
#include <utility>
#include <vector>

#include "app/base/settings.h"

namespace holdwell {
namespace {

std::optional<double> parse_number(std::string_view text)
{
    double value = 0.0;
    const auto end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::optional<Weighting> weighting_named(std::string_view name)
{
    if (name == "C") return Weighting::c;
    if (name == "Z") return Weighting::z;
    return std::nullopt;
}

SplReference with_line(SplReference r, std::string_view name, std::string_view value)
{
    if (name == "spl_microphone") r.microphone = value;
    if (const auto w = weighting_named(value); w && name == "spl_weighting") {
        r.reading.weighting = *w;
    }
    const auto number = parse_number(value);
    if (!number) return r;
    if (name == "spl_meter_db") r.reading.meter = {*number};
    if (name == "spl_distance_cm") r.reading.distance = {*number / 100.0};
    if (name == "spl_level_dbfs") r.reading.level = {*number};
    if (name == "spl_rate_hz") r.rate = {*number};
    return r;
}

CheckedSetup with_line(CheckedSetup c, std::string_view name, std::string_view value)
{
    if (name == "check_microphone") c.microphone = value;
    const auto number = parse_number(value);
    if (!number) return c;
    if (name == "check_rate_hz") c.rate = {*number};
    if (name == "check_room_dbfs") c.room = {*number};
    if (name == "check_voice_dbfs") c.voice = {*number};
    if (name == "check_input_level" && *number >= 1.0 && *number <= 1e6) {
        c.input_level = static_cast<int>(*number);
    }
    return c;
}

// Nothing is known of it until its lines are read.
SplReference unread_reference()
{
    return {.reading = {.meter = {}, .weighting = Weighting::c, .distance = {}, .level = {}},
            .microphone = {},
            .rate = {}};
}

std::string line(const char* name, const std::string& value)
{
    std::string text = name;
    text += " = ";
    text += value;
    text += '\n';
    return text;
}

// With so many digits after the point.
std::string line(const char* name, double value, int digits)
{
    std::array<char, 64> text{};
    std::snprintf(text.data(), text.size(), "%.*f", digits, value);
    return line(name, text.data());
}

}  // namespace

std::string sound_text_of(const SoundMemory& memory)
{
    std::string text;
    if (memory.spl) {
        const ReferenceReading& r = memory.spl->reading;
        text += line("spl_meter_db", r.meter.value, 1);
        text += line("spl_weighting", r.weighting == Weighting::z ? "Z" : "C");
        text += line("spl_distance_cm", r.distance.value * 100.0, 0);
        text += line("spl_level_dbfs", r.level.value, 2);
        text += line("spl_rate_hz", memory.spl->rate.hz, 0);
        text += line("spl_microphone", memory.spl->microphone);
    }
    if (memory.last_check) {
        const CheckedSetup& c = *memory.last_check;
        text += line("check_microphone", c.microphone);
        text += line("check_rate_hz", c.rate.hz, 0);
        text += line("check_room_dbfs", c.room.value, 1);
        text += line("check_voice_dbfs", c.voice.value, 1);
        text += line("check_input_level", c.input_level, 0);
    }
    return text;
}

SoundMemory with_sound(SoundMemory memory, std::string_view name, std::string_view value)
{
    if (name.starts_with("spl_")) {
        memory.spl = with_line(memory.spl.value_or(unread_reference()), name, value);
    } else if (name.starts_with("check_")) {
        memory.last_check = with_line(memory.last_check.value_or(CheckedSetup{}), name, value);
    }
    return memory;
}

SoundMemory with_whole_sound_only(SoundMemory memory)
{
    const bool is_usable =
        memory.spl && memory.spl->rate.hz > 0.0 && SplCalibration::from(memory.spl->reading);
    if (!is_usable) memory.spl.reset();
    if (memory.last_check && memory.last_check->rate.hz <= 0.0) memory.last_check.reset();
    return memory;
}

SoundMemory remembered_sound(const std::filesystem::path& settings)
{
    SoundMemory memory;
    for (const Setting& setting : settings_in(settings))
        memory = with_sound(std::move(memory), setting.key, setting.value.value_or(""));
    return with_whole_sound_only(std::move(memory));
}

Outcome remember_check(const std::filesystem::path& settings, const CheckedSetup& check)
{
    std::vector<Setting> fresh;
    std::istringstream lines{sound_text_of({.spl = {}, .last_check = check})};
    for (std::string text; std::getline(lines, text);) {
        const std::size_t equals = text.find(" = ");
        fresh.push_back({text.substr(0, equals), text.substr(equals + 3)});
    }
    return remember(settings, fresh);
}

}  // namespace holdwell
