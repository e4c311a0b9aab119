#include "app/files/json_reader.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <set>

#include "app/files/base64.h"

namespace holdwell {
namespace {

constexpr std::size_t kLongestQuote = 40;  // bytes of a text that a sentence repeats
constexpr double kMostInteger = 999'999'999.0;

// Cut between letters.
std::string shortened(const std::string& text)
{
    if (text.size() <= kLongestQuote) return text;
    std::size_t end = kLongestQuote;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
    return text.substr(0, end) + "...";
}

bool is_list(const Json& value) { return value.is_array(); }
bool is_number(const Json& value) { return value.is_number(); }
bool is_text(const Json& value) { return value.is_string(); }
bool is_truth(const Json& value) { return value.is_boolean(); }

// A stranger's key may hold anything: what is no plain name stands in quotation marks.
std::string key_in_words(const std::string& key)
{
    const bool is_plain = std::all_of(key.begin(), key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
               c == '_' || c == '$' || c == '-';
    });
    return is_plain && !key.empty() ? shortened(key) : Json(shortened(key)).dump();
}

// The part of `text` from `at`, as a number of exactly `digits` digits.
std::optional<unsigned> digits_at(std::string_view text, std::size_t at, std::size_t digits)
{
    const std::string_view part = text.substr(at, digits);
    if (!std::all_of(part.begin(), part.end(), [](char c) { return c >= '0' && c <= '9'; }))
        return std::nullopt;
    unsigned value = 0;
    std::from_chars(part.data(), part.data() + part.size(), value);
    return value;
}

}  // namespace

std::string text_of(const Json& json)
{
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string field_of(const std::string& place, std::string_view key)
{
    return place.empty() ? std::string{key} : place + "." + std::string{key};
}

std::string item_of(const std::string& place, std::size_t index)
{
    return place + "[" + std::to_string(index) + "]";
}

std::string described(const Json& value)
{
    if (value.is_object()) return "an object";
    if (value.is_array()) return "a list";
    if (value.is_null()) return "null";
    if (!value.is_string()) return value.dump();
    return Json(shortened(value.get_ref<const std::string&>())).dump();
}

// ---- faults ------------------------------------------------------------------------------------

void FaultLog::add(const std::string& place, const Json& value, std::string_view may_be)
{
    add(place, "It is " + described(value) + "; it may be " + std::string{may_be} + ".");
}

void FaultLog::add(std::string place, std::string sentence)
{
    faults_.push_back({std::move(place), std::move(sentence)});
}

bool FaultLog::touches(const std::string& place) const
{
    const auto is_within = [](const std::string& inner, const std::string& outer) {
        if (!inner.starts_with(outer)) return false;
        return inner.size() == outer.size() || inner[outer.size()] == '.' ||
               inner[outer.size()] == '[';
    };
    return std::any_of(faults_.begin(), faults_.end(), [&](const Fault& fault) {
        return is_within(fault.place, place) || is_within(place, fault.place);
    });
}

// ---- objects -----------------------------------------------------------------------------------

ObjectReader::ObjectReader(const Json& value, std::string place, FaultLog& log)
    : place_{std::move(place)}, log_{log}
{
    if (value.is_object())
        object_ = &value;
    else
        log_.add(place_, value, "an object, in braces");
}

const Json* ObjectReader::find(std::string_view key)
{
    asked_.emplace_back(key);
    if (object_ == nullptr) return nullptr;
    const auto found = object_->find(std::string{key});
    return found == object_->end() ? nullptr : &*found;
}

void ObjectReader::require(std::string_view key, std::string_view may_be)
{
    if (object_ == nullptr || find(key) != nullptr) return;
    log_.add(field_of(place_, key), "It is missing; it may be " + std::string{may_be} + ".");
}

const Json* ObjectReader::of_type(std::string_view key, std::string_view may_be,
                                  bool is_type(const Json&))
{
    const Json* value = find(key);
    if (value == nullptr || is_type(*value)) return value;
    log_.add(field_of(place_, key), *value, may_be);
    return nullptr;
}

int ObjectReader::integer(std::string_view key, int usual)
{
    const Json* value = of_type(key, "a whole number", is_number);
    if (value == nullptr) return usual;
    const auto number = value->get<double>();
    if (number == std::round(number) && std::abs(number) <= kMostInteger)
        return static_cast<int>(number);
    const bool is_whole = number == std::round(number);
    log_.add(field_of(place_, key), *value,
             is_whole ? "a whole number of at most nine digits" : "a whole number");
    return usual;
}

double ObjectReader::number(std::string_view key, double usual)
{
    const Json* value = of_type(key, "a number", is_number);
    return value == nullptr ? usual : value->get<double>();
}

bool ObjectReader::yes_or_no(std::string_view key, bool usual)
{
    const Json* value = of_type(key, "true or false", is_truth);
    return value == nullptr ? usual : value->get<bool>();
}

std::string ObjectReader::text(std::string_view key, std::string usual)
{
    const Json* value = of_type(key, "text in quotation marks", is_text);
    return value == nullptr ? std::move(usual) : value->get<std::string>();
}

Date ObjectReader::date(std::string_view key)
{
    constexpr std::string_view kMayBe{"a day such as \"2026-03-02\""};
    const Json* value = of_type(key, kMayBe, is_text);
    if (value == nullptr) return {};
    if (const auto date = parse_date(value->get_ref<const std::string&>())) return *date;
    log_.add(field_of(place_, key), *value, kMayBe);
    return {};
}

Note ObjectReader::note(std::string_view key, Note usual)
{
    const Json* value = find(key);
    if (value == nullptr) return usual;
    if (const auto note = note_in(*value)) return *note;
    log_.add(field_of(place_, key), *value, "a note such as \"F4\"");
    return usual;
}

Seconds ObjectReader::seconds(std::string_view key, Seconds usual)
{
    return Seconds{number(key, usual.count())};
}

std::optional<double> ObjectReader::number_or_none(std::string_view key)
{
    const Json* value = find(key);
    if (value == nullptr || value->is_null()) return std::nullopt;
    if (value->is_number()) return value->get<double>();
    log_.add(field_of(place_, key), *value, "a number or null");
    return std::nullopt;
}

std::optional<Note> ObjectReader::note_or_none(std::string_view key)
{
    const Json* value = find(key);
    if (value == nullptr || value->is_null()) return std::nullopt;
    const auto note = note_in(*value);
    if (!note) log_.add(field_of(place_, key), *value, "a note such as \"F4\", or null");
    return note;
}

std::vector<std::byte> ObjectReader::base64(std::string_view key)
{
    const Json* value = of_type(key, "bytes as base64 text", is_text);
    if (value == nullptr) return {};
    auto bytes = from_base64(value->get_ref<const std::string&>());
    if (bytes) return std::move(*bytes);
    log_.add(field_of(place_, key), *value, "bytes as base64 text");
    return {};
}

const Json* ObjectReader::object(std::string_view key)
{
    const Json* value = find(key);
    if (value == nullptr || value->is_null() || value->is_object())
        return value != nullptr && value->is_object() ? value : nullptr;
    log_.add(field_of(place_, key), *value, "an object, in braces");
    return nullptr;
}

const Json* ObjectReader::list(std::string_view key)
{
    return of_type(key, "a list, in brackets", is_list);
}

void ObjectReader::refuse_unknown()
{
    if (object_ == nullptr) return;
    const std::set<std::string> known{asked_.begin(), asked_.end()};
    for (const auto& [key, value] : object_->items())
        if (!known.contains(key))
            log_.add(field_of(place_, key_in_words(key)),
                     "There is no such field here; leave it out.");
}

// ---- notes and days ----------------------------------------------------------------------------

std::optional<Note> note_in(const Json& value)
{
    if (!value.is_string()) return std::nullopt;
    return parse_note(value.get_ref<const std::string&>());
}

std::optional<Date> parse_date(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto year = digits_at(text, 0, 4);
    const auto month = digits_at(text, 5, 2);
    const auto day = digits_at(text, 8, 2);
    if (!year || !month || !day) return std::nullopt;
    const Date date{std::chrono::year{static_cast<int>(*year)}, std::chrono::month{*month},
                    std::chrono::day{*day}};
    return date.ok() ? std::optional{date} : std::nullopt;
}

std::string text_of(Date date)
{
    const auto padded = [](auto number, std::size_t digits) {
        std::string text = std::to_string(number);
        return std::string(digits - std::min(digits, text.size()), '0') + text;
    };
    return padded(static_cast<int>(date.year()), 4) + "-" +
           padded(static_cast<unsigned>(date.month()), 2) + "-" +
           padded(static_cast<unsigned>(date.day()), 2);
}

}  // namespace holdwell
