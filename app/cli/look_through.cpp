#include "app/cli/look_through.h"

#include <cstddef>
#include <vector>

#include "app/cli/phrases.h"
#include "app/files/recording.h"

namespace holdwell {

namespace {

Soundness unusable(const std::string& sentence, const Console& console)
{
    console.err << printable(sentence) << '\n';
    return Soundness::unusable;
}

}  // namespace

Soundness look_through(const std::string& path, const Console& console)
{
    constexpr std::size_t kBlock = 48'000;
    Result<RecordingReader> opened = RecordingReader::open(path);
    if (!opened) return unusable(opened.error().message, console);
    RecordingReader& reader = opened.value();
    std::vector<float> block(kBlock);
    if (reader.read(block) == 0) return unusable(sentence_on_no_sound(path), console);
    while (reader.read(block) > 0) {
    }
    if (const auto warning = sentence_on_replaced(path, reader.replaced()))
        console.err << printable(*warning) << '\n';
    const auto shortfall = reader.shortfall();
    if (!shortfall) return Soundness::whole;
    console.err << printable(*shortfall) << '\n';
    return Soundness::cut_off;
}

ExitStatus status_after(Soundness recording, ExitStatus listening)
{
    if (recording != Soundness::whole && listening == ExitStatus::ok) return ExitStatus::trouble;
    return listening;
}

std::string sentence_on_no_sound(const std::string& path)
{
    return path + ": holds no sound; copy or record it again";
}

}  // namespace holdwell
