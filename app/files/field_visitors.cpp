#include "app/files/field_visitors.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <type_traits>

#include "app/files/base64.h"

namespace holdwell {

namespace {

constexpr int kFarthestDay = 100'000;  // from day 1, 273 years

// Where a plan has days: [object, field]; the empty object is the plan itself.
constexpr const char* kGoal = "goal";
constexpr const char* kWritten = "written";
constexpr const char* kSetOn = "set_on";

std::optional<int> two_digits(std::string_view text)
{
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    return whole && value >= 0 ? std::optional{value} : std::nullopt;
}

std::optional<ClockTime> clock_time_in(std::string_view text)
{
    if (text.size() != 5 || text[2] != ':') return std::nullopt;
    const auto hours = two_digits(text.substr(0, 2));
    const auto minutes = two_digits(text.substr(3, 2));
    if (!hours || !minutes || *hours > 23 || *minutes > 59) return std::nullopt;
    return ClockTime{std::chrono::minutes{*hours * 60 + *minutes}};
}

bool is_id(std::string_view text)
{
    return text.size() == 32 && std::ranges::all_of(text, [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
           });
}

std::string range_in_words(const NumberLimits& limits)
{
    return fmt::format("a number from {:g} to {:g}{}{}", limits.lowest, limits.highest,
                       limits.unit.empty() ? "" : " ", limits.unit);
}

// The days of a plan, each replaced by what `replace` makes of it.
template <typename Replace>
Json with_days(Json plan, Replace replace)
{
    if (!plan.is_object()) return plan;
    if (plan.contains(kWritten)) plan[kWritten] = replace(plan[kWritten]);
    const auto goal = plan.find(kGoal);
    if (goal != plan.end() && goal->is_object() && goal->contains(kSetOn))
        (*goal)[kSetOn] = replace((*goal)[kSetOn]);
    return plan;
}

bool is_day_number(const Json& value)
{
    return value.is_number_integer() && value.get<double>() >= -kFarthestDay &&
           value.get<double>() <= kFarthestDay;
}

}  // namespace

std::string clock_text(ClockTime time)
{
    const auto minutes = time.since_midnight.count();
    return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

// ---- writing -------------------------------------------------------------------------------

Json FieldWriter::number(double value, const NumberLimits& limits)
{
    if (std::isfinite(value)) return value;
    return std::isnan(value) ? std::clamp(0.0, limits.lowest, limits.highest)
                             : (value > 0.0 ? limits.highest : limits.lowest);
}

Json FieldWriter::day_json(Date day) const
{
    if (!day.ok()) return nullptr;
    if (days_.day_one) return day_number(day, *days_.day_one);
    return text_of(day);
}

void FieldWriter::operator()(const char* key, ClockTime time) { object_[key] = clock_text(time); }

void FieldWriter::operator()(const char* key, const std::optional<Note>& note)
{
    object_[key] = note ? Json(name_of(*note)) : Json(nullptr);
}

void FieldWriter::operator()(const char* key, const std::vector<std::byte>& bytes)
{
    object_[key] = to_base64(bytes);
}

void FieldWriter::id_or_null(const char* key, const Id& id)
{
    object_[key] = id.text.empty() ? Json(nullptr) : Json(id.text);
}

void FieldWriter::measures(Measures& measures, DrillKind)
{
    std::visit([&](auto& m) { part(kMeasuresKeys[measures.index()], m); }, measures);
}

void FieldWriter::plans(const char* key, const std::vector<Plan>& plans)
{
    Json all = Json::array();
    for (const Plan& plan : plans) {
        all.push_back(with_days(json_of(plan), [&](const Json& written) -> Json {
            const auto day = written.is_string() ? parse_date(written.get_ref<const std::string&>())
                                                 : std::nullopt;
            return day ? day_json(*day) : written;
        }));
    }
    object_[key] = std::move(all);
}

// ---- reading -------------------------------------------------------------------------------

bool FieldReader::is_there(const char* key)
{
    if (in_.find(key) != nullptr) return true;
    around_.log.add(field_of(in_.place(), key), "This field is missing.");
    return false;
}

bool FieldReader::is_given(const char* key) { return is_there(key) && !in_.find(key)->is_null(); }

void FieldReader::wrong(const char* key, std::string_view may_be)
{
    around_.log.add(field_of(in_.place(), key), *in_.find(key), may_be);
}

double FieldReader::number(const char* key, const NumberLimits& limits)
{
    const double nearest_to_zero = std::clamp(0.0, limits.lowest, limits.highest);
    if (!is_there(key)) return nearest_to_zero;
    const Json& value = *in_.find(key);
    const double got = value.is_number() ? value.get<double>() : std::nan("");
    if (got >= limits.lowest && got <= limits.highest) return got;
    wrong(key, range_in_words(limits));
    return nearest_to_zero;
}

int FieldReader::whole(const char* key, const NumberLimits& limits)
{
    const double got = number(key, limits);
    if (got != std::floor(got)) wrong(key, "a whole number");
    return static_cast<int>(got);
}

void FieldReader::operator()(const char* key, bool& value)
{
    if (is_there(key)) value = in_.yes_or_no(key, false);
}

void FieldReader::operator()(const char* key, std::string& text, std::size_t longest)
{
    if (is_there(key)) text = in_.text(key, {});
    if (text.size() <= longest) return;
    around_.log.add(field_of(in_.place(), key),
                    fmt::format("This text is too long: it has {} bytes; it may have {}.",
                                text.size(), longest));
}

void FieldReader::operator()(const char* key, Id& id)
{
    if (!is_there(key)) return;
    const Json& value = *in_.find(key);
    if (value.is_string() && is_id(value.get_ref<const std::string&>()))
        id.text = value.get<std::string>();
    else
        wrong(key, "an id of 32 digits, 0 to 9 and a to f");
}

void FieldReader::id_or_null(const char* key, Id& id)
{
    id = {};
    if (is_given(key)) (*this)(key, id);
}

void FieldReader::operator()(const char* key, std::optional<Date>& day)
{
    Date read{};
    (*this)(key, read);
    if (read != Date{}) day = read;
}

void FieldReader::operator()(const char* key, Date& day)
{
    if (!is_given(key)) return;
    const Json& value = *in_.find(key);
    if (around_.days == DaysInFile::numbers) {
        if (is_day_number(value))
            day = day_of_number(value.get<int>(), kNoDayOne);
        else
            wrong(key, "the number of a day, or null");
        return;
    }
    const auto got =
        value.is_string() ? parse_date(value.get_ref<const std::string&>()) : std::nullopt;
    if (got)
        day = *got;
    else
        wrong(key, "a day such as \"2026-03-02\", or null");
}

void FieldReader::operator()(const char* key, ClockTime& time)
{
    if (!is_there(key)) return;
    const Json& value = *in_.find(key);
    const auto got =
        value.is_string() ? clock_time_in(value.get_ref<const std::string&>()) : std::nullopt;
    if (got)
        time = *got;
    else
        wrong(key, "a time such as \"07:30\"");
}

void FieldReader::operator()(const char* key, std::optional<Note>& note)
{
    note = is_there(key) ? in_.note_or_none(key) : std::nullopt;
}

void FieldReader::operator()(const char* key, std::vector<std::byte>& bytes)
{
    if (is_there(key)) bytes = in_.base64(key);
}

template <typename Alternative>
Measures FieldReader::alternative(const char* key)
{
    Alternative got;
    part(key, got);
    return got;
}

// Which measures a trial has follows from its drill.
void FieldReader::measures(Measures& measures, DrillKind kind)
{
    switch (kind) {
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold:
        measures = alternative<HoldMeasures>("hold");
        return;
    case DrillKind::rising_glide:
    case DrillKind::falling_glide:
        measures = alternative<GlideMeasures>("glide");
        return;
    case DrillKind::s_hold:
    case DrillKind::z_hold:
        measures = alternative<SibilantMeasures>("sibilant");
        return;
    }
}

void FieldReader::plans(const char* key, std::vector<Plan>& plans)
{
    const Json* all = is_there(key) ? in_.list(key) : nullptr;
    for (std::size_t i = 0; all != nullptr && i < all->size() && !is_enough(); ++i) {
        const Json dated = with_days((*all)[i], [&](const Json& written) -> Json {
            if (around_.days == DaysInFile::dates || !is_day_number(written)) return written;
            return text_of(day_of_number(written.get<int>(), kNoDayOne));
        });
        PlanFromJson got = plan_from(dated, item_of(field_of(in_.place(), key), i));
        for (Fault& fault : got.faults)
            around_.log.add(std::move(fault.place), std::move(fault.sentence));
        plans.push_back(std::move(got.plan));
    }
}

}  // namespace holdwell
