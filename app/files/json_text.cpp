// From a file's text to JSON: the one place where nlohmann's exceptions are caught.

#include <algorithm>
#include <set>
#include <string>

#include "app/files/json_reader.h"

namespace holdwell {
namespace {

constexpr int kDeepest = 32;

// "line 3, column 14" of the byte before which parsing stopped, both counted from 1.
std::string position_in(std::string_view text, std::size_t bytes_read)
{
    const std::string_view before = text.substr(0, bytes_read > 0 ? bytes_read - 1 : 0);
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    const std::size_t line_begin = before.rfind('\n') + 1;  // npos + 1 is 0
    const std::string_view on_line = before.substr(line_begin);
    // A letter is counted by its first byte.
    const auto column = std::count_if(on_line.begin(), on_line.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    });
    return "line " + std::to_string(line) + ", column " + std::to_string(column + 1);
}

// Watches the parser go by for what it lets through.
class Watch {
public:
    bool operator()(int depth, Json::parse_event_t event, const Json& value)
    {
        const auto level = static_cast<std::size_t>(std::max(depth, 0));
        if (event == Json::parse_event_t::object_start) {
            if (depth >= kDeepest)
                note("There are lists and objects in each other more than " +
                     std::to_string(kDeepest) + " deep.");
            keys_.resize(std::max(keys_.size(), level + 2));
            keys_[level + 1].clear();
        }
        if (event == Json::parse_event_t::array_start && depth >= kDeepest)
            note("There are lists and objects in each other more than " + std::to_string(kDeepest) +
                 " deep.");
        if (event == Json::parse_event_t::key && level < keys_.size() &&
            !keys_[level].insert(value.get<std::string>()).second)
            note("The field " + described(value) + " stands twice in one object.");
        return fault_.empty();
    }
    const std::string& fault() const { return fault_; }

private:
    void note(std::string sentence)
    {
        if (fault_.empty()) fault_ = std::move(sentence);
    }

    std::vector<std::set<std::string>> keys_;  // of the open object at each depth
    std::string fault_;
};

}  // namespace

JsonText parse_json(std::string_view text)
{
    Watch watch;
    // By reference: the parser keeps a copy of what it is given.
    const auto look = [&watch](int depth, Json::parse_event_t event, const Json& value) {
        return watch(depth, event, value);
    };
    try {
        Json json = Json::parse(text.begin(), text.end(), look);
        if (!watch.fault().empty()) return {.json = {}, .fault = Fault{"", watch.fault()}};
        return {.json = std::move(json), .fault = {}};
    } catch (const nlohmann::json::parse_error& error) {
        return {.json = {},
                .fault = Fault{position_in(text, error.byte),
                               "This is not JSON: a comma, quotation mark or bracket may be "
                               "missing or too many."}};
    } catch (const nlohmann::json::exception&) {
        return {.json = {}, .fault = Fault{"", "It holds a number that is too large."}};
    }
}

}  // namespace holdwell
