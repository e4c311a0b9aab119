#include "app/files/flac_bytes.h"

#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <string_view>

namespace holdwell {

namespace {

constexpr Seconds kLongest{120.0};
constexpr const char* kUnreadable = "the recorded voice cannot be read; record it anew";

// A file that lies in memory, as libsndfile asks for it.
struct MemoryFile {
    std::vector<std::byte> bytes;
    sf_count_t at{0};
};

sf_count_t length_of(void* user)
{
    return static_cast<sf_count_t>(static_cast<MemoryFile*>(user)->bytes.size());
}

sf_count_t go_to(sf_count_t offset, int whence, void* user)
{
    auto& file = *static_cast<MemoryFile*>(user);
    const sf_count_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? file.at : length_of(user);
    file.at = std::max<sf_count_t>(0, from + offset);
    return file.at;
}

sf_count_t read_from(void* to, sf_count_t count, void* user)
{
    auto& file = *static_cast<MemoryFile*>(user);
    const sf_count_t there = std::clamp<sf_count_t>(length_of(user) - file.at, 0, count);
    if (there == 0) return 0;
    std::memcpy(to, file.bytes.data() + file.at, static_cast<std::size_t>(there));
    file.at += there;
    return there;
}

sf_count_t write_to(const void* from, sf_count_t count, void* user)
{
    auto& file = *static_cast<MemoryFile*>(user);
    const auto end = static_cast<std::size_t>(file.at + count);
    if (file.bytes.size() < end) file.bytes.resize(end);
    std::memcpy(file.bytes.data() + file.at, from, static_cast<std::size_t>(count));
    file.at += count;
    return count;
}

sf_count_t tell(void* user) { return static_cast<MemoryFile*>(user)->at; }

// By its first letters (RFC 9639, section 6): of other kinds the library writes on the terminal.
bool begins_as_flac(std::span<const std::byte> bytes)
{
    constexpr std::string_view kLetters = "fLaC";
    return bytes.size() >= kLetters.size() &&
           std::memcmp(bytes.data(), kLetters.data(), kLetters.size()) == 0;
}

SF_VIRTUAL_IO in_memory() { return {&length_of, &go_to, &read_from, &write_to, &tell}; }

struct Closing {
    void operator()(SNDFILE* file) const { sf_close(file); }
};
using OpenSound = std::unique_ptr<SNDFILE, Closing>;

}  // namespace

Result<std::vector<std::byte>> flac_of(const Recording& recording)
{
    MemoryFile file;
    SF_VIRTUAL_IO io = in_memory();
    SF_INFO info{};
    info.samplerate = static_cast<int>(std::lround(recording.sample_rate.hz));
    info.channels = 1;
    info.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
    OpenSound sound{sf_open_virtual(&io, SFM_WRITE, &info, &file)};
    if (!sound) return Error{"the sound could not be kept; what was measured is kept all the same"};
    sf_command(sound.get(), SFC_SET_CLIPPING, nullptr, SF_TRUE);
    const auto count = static_cast<sf_count_t>(recording.samples.size());
    const bool whole = sf_write_float(sound.get(), recording.samples.data(), count) == count;
    sound.reset();
    if (!whole) return Error{"the sound could not be kept; what was measured is kept all the same"};
    return std::move(file.bytes);
}

Result<Recording> sound_of_flac(std::span<const std::byte> flac)
{
    if (!begins_as_flac(flac)) return Error{kUnreadable};
    MemoryFile file{{flac.begin(), flac.end()}, 0};
    SF_VIRTUAL_IO io = in_memory();
    SF_INFO info{};
    const OpenSound sound{sf_open_virtual(&io, SFM_READ, &info, &file)};
    const bool is_flac = sound && (info.format & SF_FORMAT_TYPEMASK) == SF_FORMAT_FLAC;
    if (!is_flac || info.channels < 1 || info.channels > kMostChannels) return Error{kUnreadable};
    Recording recording;
    recording.sample_rate = {static_cast<double>(info.samplerate)};
    const auto channels = static_cast<std::size_t>(info.channels);
    const auto most = static_cast<std::size_t>(samples_in(kLongest, recording.sample_rate).value);
    std::vector<float> frames(4096 * channels);
    while (recording.samples.size() < most) {
        const auto read = sf_readf_float(sound.get(), frames.data(), 4096);
        if (read <= 0) break;
        for (std::size_t i = 0; i < static_cast<std::size_t>(read); ++i)
            recording.samples.push_back(frames[i * channels]);
    }
    if (recording.samples.empty()) return Error{"the recorded voice is empty; record it anew"};
    return recording;
}

}  // namespace holdwell
