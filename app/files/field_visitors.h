#pragma once
// The two visitors of app/files/record_fields.h: one writes records as JSON, one reads them.

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <type_traits>
#include <variant>
#include <vector>

#include "app/files/json_reader.h"
#include "app/files/practice_file.h"
#include "app/files/record_fields.h"
#include "app/practice/day_text.h"

namespace holdwell {

// ---- a quantity as a bare number -------------------------------------------------------------

inline double bare(double value) { return value; }
inline double bare(Seconds s) { return s.count(); }
inline double bare(SampleRate rate) { return rate.hz; }
template <typename Quantity>
requires requires(Quantity q) { q.value; }
double bare(Quantity q) { return q.value; }

template <typename Quantity>
concept Bareable = requires(Quantity q)
{
    bare(q);
}
&&!std::is_integral_v<Quantity>;

// ---- days and times of day -------------------------------------------------------------------

// Day 1 is `day_one`, the day before it day 0.
constexpr int day_number(Date day, Date day_one)
{
    return static_cast<int>(days_between(day_one, day).count()) + 1;
}
constexpr Date day_of_number(int number, Date day_one)
{
    return day_after(day_one, std::chrono::days{number - 1});
}
std::string clock_text(ClockTime time);  // "07:30"

// Which of several measures a trial has: the field's name in the file.
inline constexpr std::array<const char*, std::variant_size_v<Measures>> kMeasuresKeys{
    "hold", "glide", "sibilant"};

// ---- writing -----------------------------------------------------------------------------------

class FieldWriter {
public:
    explicit FieldWriter(const DayForm& days) : days_{days} {}
    Json take() { return std::move(object_); }

    template <Bareable Quantity>
    void operator()(const char* key, const Quantity& value, const NumberLimits& limits)
    {
        object_[key] = number(bare(value), limits);
    }
    template <Bareable Quantity>
    void operator()(const char* key, const std::optional<Quantity>& value, const NumberLimits&)
    {
        object_[key] = value && std::isfinite(bare(*value)) ? Json(bare(*value)) : Json(nullptr);
    }
    void operator()(const char* key, int value, const NumberLimits&) { object_[key] = value; }
    void operator()(const char* key, bool value) { object_[key] = value; }
    void operator()(const char* key, const std::string& text, std::size_t) { object_[key] = text; }
    template <typename Value, std::size_t N>
    void operator()(const char* key, Value value, const Names<Value, N>& names)
    {
        object_[key] = name_in(names, value);
    }
    template <typename Value, std::size_t N>
    void operator()(const char* key, std::optional<Value> value, const Names<Value, N>& names)
    {
        object_[key] = value ? Json(name_in(names, *value)) : Json(nullptr);
    }
    void operator()(const char* key, const Id& id) { object_[key] = id.text; }
    void operator()(const char* key, Date day) { object_[key] = day_json(day); }
    void operator()(const char* key, const std::optional<Date>& day)
    {
        (*this)(key, day.value_or(Date{}));  // which is null
    }
    void operator()(const char* key, ClockTime time);
    void operator()(const char* key, const std::optional<Note>& note);
    void operator()(const char* key, const std::vector<std::byte>& bytes);

    void id_or_null(const char* key, const Id& id);
    void measures(Measures& measures, DrillKind kind);
    void plans(const char* key, const std::vector<Plan>& plans);

    template <typename Part>
    void part(const char* key, Part& value)
    {
        FieldWriter inner{days_};
        describe(inner, value);
        object_[key] = inner.take();
    }
    template <typename Part>
    void part(const char* key, std::optional<Part>& value)
    {
        if (value)
            part(key, *value);
        else
            object_[key] = nullptr;
    }
    template <typename Item>
    void list(const char* key, std::vector<Item>& items)
    {
        Json all = Json::array();
        for (Item& item : items) {
            FieldWriter inner{days_};
            describe(inner, item);
            all.push_back(inner.take());
        }
        object_[key] = std::move(all);
    }
    template <typename Item>
    void later_list(const char* key, std::vector<Item>& items)
    {
        list(key, items);
    }

private:
    // JSON has no way to write what is no number; the nearest that is possible stands for it.
    static Json number(double value, const NumberLimits& limits);
    Json day_json(Date day) const;

    DayForm days_;
    Json object_ = Json::object();
};

// ---- reading -----------------------------------------------------------------------------------

// How many faults are listed: after so many, reading ends.
inline constexpr std::size_t kMostFaults = 20;

// Every field must be there; whatever is read is within its limits, so that reading goes on after a
// fault and finds the others, too.
class FieldReader {
public:
    struct Around {
        DaysInFile days{DaysInFile::dates};
        FaultLog& log;
    };
    FieldReader(const Json& object, const std::string& place, Around& around)
        : in_{object, place, around.log}, around_{around}
    {
    }
    void pass_over(const char* key) { in_.find(key); }
    void finish() { in_.refuse_unknown(); }

    template <Bareable Quantity>
    void operator()(const char* key, Quantity& value, const NumberLimits& limits)
    {
        value = Quantity{number(key, limits)};
    }
    template <Bareable Quantity>
    void operator()(const char* key, std::optional<Quantity>& value, const NumberLimits& limits)
    {
        value = std::nullopt;
        if (is_given(key)) value = Quantity{number(key, limits)};
    }
    void operator()(const char* key, int& value, const NumberLimits& limits)
    {
        value = whole(key, limits);
    }
    void operator()(const char* key, bool& value);
    void operator()(const char* key, std::string& text, std::size_t longest);
    template <typename Value, std::size_t N>
    void operator()(const char* key, Value& value, const Names<Value, N>& names)
    {
        if (is_there(key)) value = in_.choice(key, names, value);
    }
    template <typename Value, std::size_t N>
    void operator()(const char* key, std::optional<Value>& value, const Names<Value, N>& names)
    {
        value = std::nullopt;
        if (is_given(key)) value = in_.choice(key, names, names.front().value);
    }
    void operator()(const char* key, Id& id);
    void operator()(const char* key, Date& day);
    void operator()(const char* key, std::optional<Date>& day);
    void operator()(const char* key, ClockTime& time);
    void operator()(const char* key, std::optional<Note>& note);
    void operator()(const char* key, std::vector<std::byte>& bytes);

    void id_or_null(const char* key, Id& id);
    void measures(Measures& measures, DrillKind kind);
    void plans(const char* key, std::vector<Plan>& plans);

    template <typename Part>
    void part(const char* key, Part& value)
    {
        if (!is_there(key)) return;
        const Json* object = in_.find(key);
        read_part(*object, field_of(in_.place(), key), value);
    }
    template <typename Part>
    void part(const char* key, std::optional<Part>& value)
    {
        value = std::nullopt;
        if (!is_given(key)) return;
        Part got;
        part(key, got);
        value = got;
    }
    template <typename Item>
    void list(const char* key, std::vector<Item>& items)
    {
        const Json* all = is_there(key) ? in_.list(key) : nullptr;
        for (std::size_t i = 0; all != nullptr && i < all->size() && !is_enough(); ++i) {
            Item item;
            read_part((*all)[i], item_of(field_of(in_.place(), key), i), item);
            items.push_back(std::move(item));
        }
    }
    // One that files did not have from the first: where it is missing there are none.
    template <typename Item>
    void later_list(const char* key, std::vector<Item>& items)
    {
        if (in_.find(key) != nullptr) list(key, items);
    }

private:
    bool is_enough() const { return around_.log.count() >= kMostFaults; }
    bool is_there(const char* key);  // a missing field is a fault
    bool is_given(const char* key);  // there, and not null
    double number(const char* key, const NumberLimits& limits);
    int whole(const char* key, const NumberLimits& limits);
    void wrong(const char* key, std::string_view may_be);

    template <typename Part>
    void read_part(const Json& object, const std::string& place, Part& part)
    {
        FieldReader inner{object, place, around_};
        describe(inner, part);
        inner.finish();
    }
    template <typename Alternative>
    Measures alternative(const char* key);

    ObjectReader in_;
    Around& around_;
};

}  // namespace holdwell
