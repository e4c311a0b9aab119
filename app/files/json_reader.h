#pragma once
// Reads values out of JSON field by field and notes each fault at its place, with what was found
// and what may stand there.
//
// A field that is missing takes the value given for it. One of another type does too, with a fault.
// A field that nobody asked for is a fault with its name.

#include <array>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/practice/identity.h"
#include "app/practice/plan.h"
#include "dsp/tuning.h"
#include "dsp/units.h"

namespace holdwell {

// Keys in the order in which they are described.
using Json = nlohmann::ordered_json;

// ---- the text of a file --------------------------------------------------------------------

// The JSON, or the one fault that keeps the text from being JSON: "line 3, column 14". A key that
// stands twice in one object and nesting beyond 32 are refused as well.
struct JsonText {
    std::optional<Json> json;
    std::optional<Fault> fault;
};
JsonText parse_json(std::string_view text);
// Indented by two, ending with a newline; bytes that are no UTF-8 become the replacement character.
std::string text_of(const Json& json);

// ---- names of enumerators ------------------------------------------------------------------

template <typename Enum>
struct Name {
    Enum value;
    const char* text;
};
template <typename Enum, std::size_t N>
using Names = std::array<Name<Enum>, N>;

template <typename Enum, std::size_t N>
const char* name_in(const Names<Enum, N>& names, Enum value)
{
    for (const Name<Enum>& name : names)
        if (name.value == value) return name.text;
    return "";
}

// ---- places --------------------------------------------------------------------------------

std::string field_of(const std::string& place, std::string_view key);  // "goal.hold_s"
std::string item_of(const std::string& place, std::size_t index);      // "drills[2]"

// What a value is, for a sentence: "11", "\"eleven\"", "a list", "nothing".
std::string described(const Json& value);

// ---- reading -------------------------------------------------------------------------------

class FaultLog {
public:
    // "It is <value>; it may be <may_be>."
    void add(const std::string& place, const Json& value, std::string_view may_be);
    void add(std::string place, std::string sentence);
    // A fault at this place, within it or around it.
    bool touches(const std::string& place) const;
    std::vector<Fault> take() { return std::move(faults_); }
    bool empty() const { return faults_.empty(); }
    std::size_t count() const { return faults_.size(); }

private:
    std::vector<Fault> faults_;
};

class ObjectReader {
public:
    // A value that is no object is a fault and reads as an empty one. Both must outlive the reader.
    ObjectReader(const Json& value, std::string place, FaultLog& log);

    int integer(std::string_view key, int usual);
    double number(std::string_view key, double usual);
    bool yes_or_no(std::string_view key, bool usual);
    std::string text(std::string_view key, std::string usual);
    Date date(std::string_view key);  // none where it is missing
    Note note(std::string_view key, Note usual);
    Seconds seconds(std::string_view key, Seconds usual);
    // Absent where it is missing or null.
    std::optional<double> number_or_none(std::string_view key);
    std::optional<Note> note_or_none(std::string_view key);
    std::vector<std::byte> base64(std::string_view key);

    template <typename Enum, std::size_t N>
    Enum choice(std::string_view key, const Names<Enum, N>& names, Enum usual)
    {
        const Json* value = find(key);
        if (value == nullptr) return usual;
        std::string may_be;
        for (const Name<Enum>& name : names) {
            if (value->is_string() && value->get_ref<const std::string&>() == name.text)
                return name.value;
            if (!may_be.empty()) may_be += &name == &names.back() ? " or " : ", ";
            may_be += name.text;
        }
        log_.add(field_of(place_, key), *value, may_be);
        return usual;
    }

    // The object or list of that name; nothing where it is missing, null, or another thing.
    const Json* object(std::string_view key);
    const Json* list(std::string_view key);
    // Any value; nothing where it is missing.
    const Json* find(std::string_view key);
    // A fault when the field is missing.
    void require(std::string_view key, std::string_view may_be);

    const std::string& place() const { return place_; }
    FaultLog& log() { return log_; }

    // Every field that was not asked for so far.
    void refuse_unknown();

private:
    const Json* of_type(std::string_view key, std::string_view may_be, bool is_type(const Json&));

    const Json* object_{nullptr};
    std::string place_;
    FaultLog& log_;
    std::vector<std::string> asked_;
};

// A note's name ("F4", "Bb3") or nothing.
std::optional<Note> note_in(const Json& value);
// A day as 2026-03-02 or nothing.
std::optional<Date> parse_date(std::string_view text);
std::string text_of(Date date);

}  // namespace holdwell
