// From a file's text to JSON: the one place where nlohmann's exceptions are caught.

#include <algorithm>
#include <set>
#include <string>

#include "app/files/json_items.h"
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

// Hands on what lies one and two deep. A depth is that of what begins or ends; the outermost object
// has 0, its fields 1, the items of its lists 2.
class Sorting {
public:
    explicit Sorting(ItemReader& reader) : reader_{reader} {}

    ItemReader::Taken operator()(int depth, Json::parse_event_t event, const Json& value)
    {
        using Event = Json::parse_event_t;
        if (depth == 1 && event == Event::key) at_ = {value.get<std::string>(), 0};
        if (depth == 1 && event == Event::array_start) in_list_ = true;
        if (depth == 1 && event == Event::array_end) in_list_ = false;
        if (depth == 1 && event == Event::value && !in_list_) reader_.field(at_.list, value);
        if (depth != 2 || !in_list_) return ItemReader::Taken::no;
        const bool is_item =
            event == Event::object_end || event == Event::array_end || event == Event::value;
        if (!is_item) return ItemReader::Taken::no;
        const auto taken =
            event == Event::object_end ? reader_.take(at_, value) : ItemReader::Taken::no;
        ++at_.index;
        return taken;
    }

private:
    ItemReader& reader_;
    ItemReader::Item at_;
    bool in_list_{false};
};

JsonText parsed(std::string_view text, const Json::parser_callback_t& look, const Watch& watch)
{
    try {
        Json json = Json::parse(text.begin(), text.end(), look);
        if (!watch.fault().empty()) return {.json = {}, .fault = Fault{"", watch.fault()}};
        return {.json = std::optional<Json>{std::in_place, std::move(json)}, .fault = {}};
    } catch (const nlohmann::json::parse_error& error) {
        return {.json = {},
                .fault = Fault{position_in(text, error.byte),
                               "This is not JSON: a comma, quotation mark or bracket may be "
                               "missing or too many."}};
    } catch (const nlohmann::json::exception&) {
        return {.json = {}, .fault = Fault{"", "It holds a number that is too large."}};
    }
}

}  // namespace

// By reference: the parser keeps a copy of what it is given.
JsonText parse_json(std::string_view text)
{
    Watch watch;
    const auto look = [&watch](int depth, Json::parse_event_t event, const Json& value) {
        return watch(depth, event, value);
    };
    return parsed(text, look, watch);
}

JsonText parse_json(std::string_view text, ItemReader& reader)
{
    Watch watch;
    Sorting sorting{reader};
    const auto look = [&](int depth, Json::parse_event_t event, const Json& value) {
        const bool is_well = watch(depth, event, value);
        return is_well && sorting(depth, event, value) == ItemReader::Taken::no;
    };
    return parsed(text, look, watch);
}

}  // namespace holdwell
