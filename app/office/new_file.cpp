#include "app/office/new_file.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

bool is_plain(unsigned char c)
{
    return c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

}  // namespace

fs::path path_for(const PlaceForFile& place)
{
    if (place.wanted.empty()) return place.folder / place.name;
    std::error_code ignored;
    return fs::is_directory(place.wanted, ignored) ? place.wanted / place.name : place.wanted;
}

std::string name_part(const std::string& text)
{
    std::string name;
    for (const char c : text) {
        if (is_plain(static_cast<unsigned char>(c)) || c == '_')
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name.empty() ? "client" : name;
}

}  // namespace holdwell
