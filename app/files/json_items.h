#pragma once
// JSON of a file whose lists may be long, read item by item, so that no more than one item stands
// in memory beside the text.

#include <cstddef>
#include <string>
#include <string_view>

#include "app/files/json_reader.h"

namespace holdwell {

class ItemReader {
public:
    virtual ~ItemReader() = default;

    // A field of the outermost object that is no object and no list.
    virtual void field(const std::string& key, const Json& value) = 0;

    // The object at this place of a list that is a field of the outermost object. Taken: it is left
    // out of the JSON that parse_json() gives.
    enum class Taken { no, yes };
    struct Item {
        std::string list;
        std::size_t index{0};
    };
    virtual Taken take(const Item& item, const Json& value) = 0;
};

// As parse_json(text), in the order of the text.
JsonText parse_json(std::string_view text, ItemReader& reader);

}  // namespace holdwell
