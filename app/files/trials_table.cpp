#include "app/files/trials_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "app/files/csv_text.h"
#include "app/files/field_visitors.h"

namespace holdwell {

namespace {

// What the columns of a practice and of a trial are called where the field's own name would not
// say whose it is.
constexpr std::pair<std::string_view, std::string_view> kPracticeColumns[] = {
    {"id", "practice_id"}, {"plan", "plan_id"}, {"kind", "practice_kind"}};
constexpr std::pair<std::string_view, std::string_view> kTrialColumns[] = {{"id", "trial_id"},
                                                                           {"number", "trial"}};
using ColumnNames = std::span<const std::pair<std::string_view, std::string_view>>;

std::string shortest(double value)
{
    // Seven figures: a millisecond in an hour, a hundredth of a hertz in the highest voice.
    return std::isfinite(value) ? fmt::format("{:.7g}", value + 0.0) : std::string{};
}

// A visitor of app/files/record_fields.h that lays all fields side by side.
class RowWriter {
public:
    explicit RowWriter(const DayForm& days) : days_{days} {}

    void call_columns(ColumnNames names) { names_ = names; }
    // Columns keep their places and stay empty.
    void leave_empty() { is_empty_ = true; }
    void fill() { is_empty_ = false; }

    std::vector<std::string> names() const;
    std::vector<std::string> values() const;

    void put(std::string_view key, std::string value);

    template <Bareable Quantity>
    void operator()(const char* key, const Quantity& value, const NumberLimits&)
    {
        put(key, shortest(bare(value)));
    }
    template <Bareable Quantity>
    void operator()(const char* key, const std::optional<Quantity>& value, const NumberLimits&)
    {
        put(key, value ? shortest(bare(*value)) : "");
    }
    void operator()(const char* key, int value, const NumberLimits&)
    {
        put(key, fmt::to_string(value));
    }
    void operator()(const char* key, bool value) { put(key, value ? "yes" : "no"); }
    void operator()(const char* key, const std::string& text, std::size_t) { put(key, text); }
    template <typename Value, std::size_t N>
    void operator()(const char* key, Value value, const Names<Value, N>& names)
    {
        put(key, name_in(names, value));
    }
    template <typename Value, std::size_t N>
    void operator()(const char* key, std::optional<Value> value, const Names<Value, N>& names)
    {
        put(key, value ? name_in(names, *value) : "");
    }
    void operator()(const char* key, const Id& id) { put(key, id.text); }
    void operator()(const char* key, Date day) { put(key, day_text_of(day)); }
    void operator()(const char* key, ClockTime time) { put(key, clock_text(time)); }
    void operator()(const char* key, const std::optional<Note>& note)
    {
        put(key, note ? name_of(*note) : "");
    }
    void id_or_null(const char* key, const Id& id) { put(key, id.text); }

    template <typename Part>
    void part(const char*, Part& value)
    {
        describe(*this, value);
    }
    template <typename Part>
    void part(const char*, std::optional<Part>& value)
    {
        Part none{};
        const bool was_empty = std::exchange(is_empty_, is_empty_ || !value);
        describe(*this, value ? *value : none);
        is_empty_ = was_empty;
    }
    template <typename Item>
    void list(const char*, std::vector<Item>&)
    {
    }
    void measures(Measures& measures, DrillKind kind);

private:
    template <typename Kind>
    void measures_of_kind(Measures& measures)
    {
        Kind none{};
        Kind* there = std::get_if<Kind>(&measures);
        const bool was_empty = std::exchange(is_empty_, is_empty_ || there == nullptr);
        describe(*this, there != nullptr ? *there : none);
        add_derived(there != nullptr ? *there : none);
        is_empty_ = was_empty;
    }
    template <typename Kind>
    void add_derived(const Kind&)
    {
    }
    void add_derived(const GlideMeasures& glide);
    std::string day_text_of(Date day) const;

    const DayForm& days_;
    ColumnNames names_;
    bool is_empty_{false};
    std::vector<std::pair<std::string, std::string>> columns_;
};

// A column that several kinds of measures have holds the value of the one that is there.
void RowWriter::put(std::string_view key, std::string value)
{
    const auto renamed = std::ranges::find(names_, key, &ColumnNames::value_type::first);
    const std::string_view name = renamed == names_.end() ? key : renamed->second;
    if (is_empty_) value.clear();
    const auto at = std::ranges::find(
        columns_, name, [](const auto& column) -> const std::string& { return column.first; });
    if (at == columns_.end())
        columns_.emplace_back(name, std::move(value));
    else if (!value.empty())
        at->second = std::move(value);
}

std::vector<std::string> RowWriter::names() const
{
    std::vector<std::string> all;
    for (const auto& [name, value] : columns_) all.push_back(name);
    return all;
}

std::vector<std::string> RowWriter::values() const
{
    std::vector<std::string> all;
    for (const auto& [name, value] : columns_) all.push_back(value);
    return all;
}

void RowWriter::measures(Measures& measures, DrillKind)
{
    measures_of_kind<HoldMeasures>(measures);
    measures_of_kind<GlideMeasures>(measures);
    measures_of_kind<SibilantMeasures>(measures);
}

void RowWriter::add_derived(const GlideMeasures& glide)
{
    put("breaks", fmt::to_string(glide.breaks()));
    const auto range = glide.range();
    put("range_semitones", range ? shortest(range->value) : "");
}

std::string RowWriter::day_text_of(Date day) const
{
    if (!day.ok()) return {};
    if (days_.day_one) return fmt::to_string(day_number(day, *days_.day_one));
    return text_of(day);
}

// Practice and trial beside the code; without a trial its columns are empty.
RowWriter row_of(const std::string& code, Practice practice, Trial* trial, const DayForm& days)
{
    RowWriter row{days};
    row.put("code", code);
    row.call_columns(kPracticeColumns);
    describe(row, practice);
    row.call_columns(kTrialColumns);
    Trial none;
    if (trial == nullptr) row.leave_empty();
    describe(row, trial != nullptr ? *trial : none);
    return row;
}

}  // namespace

std::string trials_table(const ClientFile& file, const DayForm& days)
{
    std::string table = csv_line(row_of("", {}, nullptr, days).names());
    for (const Practice& practice : file.practices) {
        Practice alone = practice;
        std::vector<Trial> trials = std::exchange(alone.trials, {});
        for (Trial& trial : trials)
            table += csv_line(row_of(file.client.code, alone, &trial, days).values());
        if (trials.empty())
            table += csv_line(row_of(file.client.code, alone, nullptr, days).values());
    }
    return table;
}

}  // namespace holdwell
