#include "app/ui/preferences_sound.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>

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

}  // namespace

std::string sound_text_of(const Preferences& p)
{
    std::string text;
    if (p.spl) {
        const ReferenceReading& r = p.spl->reading;
        text += fmt::format("spl_meter_db = {:.1f}\nspl_weighting = {}\nspl_distance_cm = {:.0f}\n",
                            r.meter.value, r.weighting == Weighting::z ? "Z" : "C",
                            r.distance.value * 100.0);
        text += fmt::format("spl_level_dbfs = {:.2f}\nspl_rate_hz = {:.0f}\nspl_microphone = {}\n",
                            r.level.value, p.spl->rate.hz, p.spl->microphone);
    }
    if (p.last_check) {
        const CheckedSetup& c = *p.last_check;
        text +=
            fmt::format("check_microphone = {}\ncheck_rate_hz = {:.0f}\n", c.microphone, c.rate.hz);
        text += fmt::format("check_room_dbfs = {:.1f}\ncheck_voice_dbfs = {:.1f}\n", c.room.value,
                            c.voice.value);
        text += fmt::format("check_input_level = {}\n", c.input_level);
    }
    return text;
}

Preferences with_sound(Preferences p, std::string_view name, std::string_view value)
{
    if (name.starts_with("spl_")) {
        p.spl = with_line(p.spl.value_or(unread_reference()), name, value);
    } else if (name.starts_with("check_")) {
        p.last_check = with_line(p.last_check.value_or(CheckedSetup{}), name, value);
    }
    return p;
}

Preferences with_whole_sound_only(Preferences p)
{
    const bool is_usable = p.spl && p.spl->rate.hz > 0.0 && SplCalibration::from(p.spl->reading);
    if (!is_usable) p.spl.reset();
    if (p.last_check && p.last_check->rate.hz <= 0.0) p.last_check.reset();
    return p;
}

}  // namespace holdwell
