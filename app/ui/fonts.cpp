#include "app/ui/fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <optional>
#include <vector>

namespace holdwell {
namespace {

using Pattern = std::unique_ptr<FcPattern, decltype(&FcPatternDestroy)>;

// fontconfig's own memory, given back as soon as the files are known.
class FontConfiguration {
public:
    FontConfiguration() { FcInit(); }
    ~FontConfiguration() { FcFini(); }
    FontConfiguration(const FontConfiguration&) = delete;
    FontConfiguration& operator=(const FontConfiguration&) = delete;
};

std::optional<std::string> text_of(const Pattern& pattern, const char* object)
{
    FcChar8* value = nullptr;
    if (FcPatternGetString(pattern.get(), object, 0, &value) != FcResultMatch) return std::nullopt;
    return std::string{reinterpret_cast<const char*>(value)};
}

// The file of this family and weight. fontconfig always answers with something: another family is
// no answer.
std::optional<std::string> find_font(const char* family, int weight)
{
    const Pattern wanted{FcPatternCreate(), &FcPatternDestroy};
    FcPatternAddString(wanted.get(), FC_FAMILY, reinterpret_cast<const FcChar8*>(family));
    FcPatternAddInteger(wanted.get(), FC_WEIGHT, weight);
    FcPatternAddInteger(wanted.get(), FC_SLANT, FC_SLANT_ROMAN);
    FcConfigSubstitute(nullptr, wanted.get(), FcMatchPattern);
    FcDefaultSubstitute(wanted.get());
    FcResult result = FcResultNoMatch;
    const Pattern found{FcFontMatch(nullptr, wanted.get(), &result), &FcPatternDestroy};
    if (!found || text_of(found, FC_FAMILY) != family) return std::nullopt;
    const auto file = text_of(found, FC_FILE);
    if (!file || !std::filesystem::exists(*file)) return std::nullopt;
    return file;
}

// Kept by the atlas until it is built, hence static.
constexpr ImWchar kDigits[] = {'.', '.', '0', '9', 0};
constexpr ImWchar kWestern[] = {0x20,   0x17F,  0x2010, 0x203A, 0x2190, 0x2193,
                                0x2212, 0x2212, 0x2264, 0x2265, 0};
// Device names come in the person's own script.
constexpr ImWchar kEuropean[] = {0x20,   0x17F,  0x370,  0x3FF,  0x400,  0x4FF,  0x2010, 0x203A,
                                 0x2190, 0x2193, 0x2212, 0x2212, 0x2264, 0x2265, 0};
constexpr ImWchar kMusic[] = {0x266D, 0x266F, 0};

struct RoleFont {
    int base_px;  // from ascent to descent, about 1.2 times what a typographer calls its size
    bool bold;
    const ImWchar* glyphs;
};

RoleFont font_of(TextRole role)
{
    switch (role) {
    case TextRole::small:
        return {19, false, kWestern};
    case TextRole::body:
        return {22, false, kEuropean};
    case TextRole::strong:
        return {22, true, kEuropean};
    case TextRole::heading:
        return {31, true, kWestern};
    case TextRole::line:
        return {38, false, kWestern};
    case TextRole::note:
        return {43, true, kWestern};
    case TextRole::stopwatch:
        break;
    }
    return {0, true, kDigits};
}

std::vector<char> bytes_of(const std::string& path)
{
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

ImFont* add(ImFontAtlas* atlas, std::vector<char>& file, ImFontConfig config, const ImWchar* glyphs)
{
    config.FontDataOwnedByAtlas = false;
    return atlas->AddFontFromMemoryTTF(file.data(), static_cast<int>(file.size()),
                                       config.SizePixels, &config, glyphs);
}

SizedFont add_font(ImFontAtlas* atlas, FontFiles& files, TextRole role, int px)
{
    const RoleFont font = font_of(role);
    ImFontConfig config;
    config.SizePixels = static_cast<float>(px);
    config.OversampleH = px > 40 ? 1 : 2;
    config.PixelSnapH = true;
    const SizedFont added{add(atlas, font.bold ? files.bold : files.regular, config, font.glyphs),
                          config.SizePixels};
    if (files.music.empty() || role == TextRole::stopwatch) return added;
    config.MergeMode = true;
    add(atlas, files.music, config, kMusic);
    return added;
}

}  // namespace

Result<FontPaths> find_fonts()
{
    const FontConfiguration configuration;
    const auto music = find_font("DejaVu Sans", FC_WEIGHT_REGULAR);
    for (const char* family : {"Inter", "DejaVu Sans", "Noto Sans"}) {
        const auto regular = find_font(family, FC_WEIGHT_MEDIUM);
        const auto bold = find_font(family, FC_WEIGHT_BOLD);
        if (regular && bold) return FontPaths{*regular, *bold, music.value_or("")};
    }
    return Error{"No typeface was found for the window: please install Inter or DejaVu Sans "
                 "(Debian: fonts-inter, fonts-dejavu-core)."};
}

int pixels_of(TextRole role, const FontScale& scale)
{
    if (role == TextRole::stopwatch) return scale.digit_px;
    constexpr double kBody = 22.0;
    const double base = font_of(role).base_px;
    const double grown = base <= kBody ? base * scale.text : base + kBody * (scale.text - 1.0);
    return static_cast<int>(std::lround(grown * scale.display));
}

FontSet build_fonts(ImFontAtlas* atlas, const FontPaths& paths, const FontScale& scale)
{
    atlas->Clear();
    // Both are for what is not drawn here: a pointer of the program's own, and its thick lines.
    atlas->Flags |= ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;
    const auto files = std::make_shared<FontFiles>(
        FontFiles{bytes_of(paths.regular), bytes_of(paths.bold),
                  paths.music.empty() ? std::vector<char>{} : bytes_of(paths.music)});
    FontSet set;
    for (int i = 0; i < kTextRoles; ++i) {
        const auto role = static_cast<TextRole>(i);
        set.of_role[static_cast<std::size_t>(i)] =
            add_font(atlas, *files, role, pixels_of(role, scale));
    }
#ifdef IMGUI_HAS_TEXTURES
    set.files = files;
#else
    atlas->Build();
    atlas->ClearInputData();  // what it was made from goes with this function
#endif
    return set;
}

}  // namespace holdwell
