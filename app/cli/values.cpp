#include "app/cli/values.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>

#include "app/practice/plan_limits.h"
#include "dsp/tuning.h"

namespace holdwell {

namespace {

// The search range of the estimator (dsp/analysis_config.h).
constexpr Limits<Hertz> kPitch{{60.0}, {1100.0}};

std::optional<double> number_in(std::string_view text)
{
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && std::isfinite(value) ? std::optional{value} : std::nullopt;
}

Error not_a_number(const std::string& text, const NumberRange& range)
{
    if (text.find(',') != std::string::npos)
        return {fmt::format("{}: write numbers with a point, for example {}",
                            as_typed(range.option, text), range.example)};
    return {fmt::format("{}: that is not a number; try {} {}", as_typed(range.option, text),
                        range.option, range.example)};
}

Error out_of_range(const std::string& text, const NumberRange& range)
{
    return {fmt::format("{}: it can be from {:g} to {:g}{}{}; try {} {}",
                        as_typed(range.option, text), range.lowest, range.highest,
                        range.unit.empty() ? "" : " ", range.unit, range.option, range.example)};
}

}  // namespace

Result<double> parse_number(const std::string& text, const NumberRange& range)
{
    const std::optional<double> value = number_in(text);
    if (!value) return not_a_number(text, range);
    if (*value < range.lowest || *value > range.highest) return out_of_range(text, range);
    return *value;
}

Result<int> parse_whole_number(const std::string& text, const NumberRange& range)
{
    const Result<double> value = parse_number(text, range);
    if (!value) return value.error();
    if (value.value() != std::floor(value.value()))
        return Error{fmt::format("{}: write a whole number, for example {}",
                                 as_typed(range.option, text), range.example)};
    return static_cast<int>(value.value());
}

Result<Hertz> parse_pitch(const std::string& text, std::string_view option)
{
    const std::optional<Note> note = parse_note(text);
    const std::optional<double> hertz = number_in(text);
    if (!note && !hertz)
        return Error{fmt::format("{}: that is neither a note nor a frequency; write a note such as "
                                 "F4 or Bb3, or hertz such as 349.2",
                                 as_typed(option, text))};
    const bool can_be_heard = note ? plan_limits::kNote.hold(*note) : kPitch.hold(Hertz{*hertz});
    if (!can_be_heard)
        return Error{fmt::format("{}: notes from C2 to C6 can be heard (60 to 1100 Hz); try {} F4",
                                 as_typed(option, text), option)};
    return note ? frequency_of(*note) : Hertz{*hertz};
}

std::string as_typed(std::string_view option, const std::string& text)
{
    return fmt::format("{} {}", option, text.empty() ? "\"\"" : text);
}

std::string no_nothing(const std::string& value)
{
    return value.empty() ? "write something after it, or leave it out" : "";
}

std::string no_option(const std::string& value)
{
    return value.empty() || value.starts_with("--") ? "name a folder after it" : "";
}

}  // namespace holdwell
