#include "app/files/recording.h"

#include <fmt/format.h>
#include <sndfile.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <utility>

#include "app/files/file_kind.h"
#include "app/files/promised_length.h"

namespace holdwell {

namespace {

constexpr std::size_t kBlockFrames = 4096;
constexpr Seconds kLongestInMemory{3600.0};
constexpr std::string_view kNotListed =
    "is not a WAV, FLAC, OGG or AIFF recording; save it as one of these";
constexpr std::string_view kOddlyPacked =
    "is packed in a way that cannot be read; save it as plain WAV or FLAC";

struct CloseSound {
    void operator()(SNDFILE* sound) const { sf_close(sound); }
};
using Sound = std::unique_ptr<SNDFILE, CloseSound>;

Error sentence(const std::string& path, std::string_view what_and_what_to_do)
{
    return {fmt::format("{}: {}", path, what_and_what_to_do)};
}

// ---- before the library sees it: the kinds of failure that have nothing to do with sound ----

std::optional<Error> trouble_with_path(const std::string& path)
{
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (status.type() == fs::file_type::not_found)
        return sentence(path, "there is no such file; check its name and folder");
    if (error == std::errc::filename_too_long)
        return sentence(path, "its name is too long; check it, or give it a shorter one");
    if (status.type() == fs::file_type::directory)
        return sentence(path, "is a folder, not a recording; name the recordings inside it");
    if (status.type() != fs::file_type::regular && status.type() != fs::file_type::none)
        return sentence(path, "is not an ordinary file; save the sound to a file first");
    errno = 0;
    if (!std::ifstream{path, std::ios::binary}) {
        if (errno == EACCES)
            return sentence(path, "may not be read by you; ask its owner for permission to read");
        return sentence(path, "cannot be opened; check its name and that the disk is connected");
    }
    if (fs::file_size(path, error) == 0) return sentence(path, "is empty; copy or record it again");
    return std::nullopt;
}

std::optional<Error> trouble_with_kind(const std::string& path)
{
    switch (kind_of_file(path)) {
    case FileKind::other:
        return sentence(path, kNotListed);
    case FileKind::mpeg_in_wav:
        return sentence(path, kOddlyPacked);
    case FileKind::listed:
        break;
    }
    return std::nullopt;
}

// ---- what the library says of it --------------------------------------------------------------

std::optional<Error> trouble_with_format(const std::string& path, const SF_INFO& info)
{
    if (info.channels < 1) return sentence(path, "says it has no channels; save it again as mono");
    if (info.channels > kMostChannels)
        return sentence(path, fmt::format("has {} channels and at most {} can be read; save it as "
                                          "mono",
                                          info.channels, kMostChannels));
    if (info.samplerate < kLowestSampleRate.hz || info.samplerate > kHighestSampleRate.hz)
        return sentence(path, fmt::format("has {} samples a second and 8000 to 192000 can be read; "
                                          "save it at 48000",
                                          info.samplerate));
    return std::nullopt;
}

Error why_not_opened(const std::string& path)
{
    // The library has codes of its own for these two and keeps them private.
    const std::string_view reason{sf_strerror(nullptr)};
    if (reason.starts_with("Channel count is zero"))
        return sentence(path, "says it has no channels; save it again as mono");
    if (reason.starts_with("Too many channels"))
        return sentence(path,
                        fmt::format("has more than {} channels; save it as mono", kMostChannels));
    switch (sf_error(nullptr)) {
    case SF_ERR_UNRECOGNISED_FORMAT:
        return sentence(path, kNotListed);
    case SF_ERR_UNSUPPORTED_ENCODING:
        return sentence(path, kOddlyPacked);
    case SF_ERR_SYSTEM:
        return sentence(path, "stopped in the middle of reading; check that the disk is connected");
    default:
        return sentence(path, "is damaged or cut off; copy or record it again");
    }
}

// The library's sign for a length that it does not know.
std::optional<SampleCount> length_of(const SF_INFO& info)
{
    if (info.frames == SF_COUNT_MAX) return std::nullopt;
    return SampleCount{info.frames};
}

bool is_ogg(const SF_INFO& info) { return (info.format & SF_FORMAT_TYPEMASK) == SF_FORMAT_OGG; }

struct OpenedSound {
    Sound sound;
    SF_INFO info{};
};

Result<OpenedSound> open_sound(const std::string& path)
{
    OpenedSound opened;
    opened.sound.reset(sf_open(path.c_str(), SFM_READ, &opened.info));
    if (!opened.sound) return why_not_opened(path);
    if (auto trouble = trouble_with_format(path, opened.info)) return *trouble;
    return opened;
}

// Frames read into `interleaved`, which holds whole frames.
std::size_t read_frames(SNDFILE* sound, std::vector<float>& interleaved, std::size_t channels)
{
    const auto frames = static_cast<sf_count_t>(interleaved.size() / channels);
    const sf_count_t got = sf_readf_float(sound, interleaved.data(), frames);
    return static_cast<std::size_t>(std::max<sf_count_t>(got, 0));
}

// ---- several channels ---------------------------------------------------------------------------

// The channel with the most energy; the first of equals.
std::size_t loudest_channel(SNDFILE* sound, std::size_t channels)
{
    std::vector<float> interleaved(kBlockFrames * channels);
    std::vector<double> energy(channels, 0.0);
    while (const std::size_t frames = read_frames(sound, interleaved, channels)) {
        for (std::size_t i = 0; i < frames * channels; ++i) {
            const double sample = static_cast<double>(interleaved[i]);
            if (std::isfinite(sample)) energy[i % channels] += sample * sample;
        }
    }
    return static_cast<std::size_t>(std::ranges::max_element(energy) - energy.begin());
}

}  // namespace

// ---- reading -----------------------------------------------------------------------------------

struct RecordingReader::State {
    std::string path;
    Sound sound;
    RecordingFormat format;
    std::vector<float> interleaved;  // one block, sized once
    SampleCount replaced{};
    SampleCount delivered{};
    bool lacks_end{false};

    // One block at most; the samples of our channel go to the front of `into`.
    std::size_t read_block(std::span<float> into)
    {
        const auto channels = static_cast<std::size_t>(format.channels);
        const auto channel = static_cast<std::size_t>(format.channel);
        const std::size_t wanted = std::min(into.size(), kBlockFrames);
        interleaved.resize(wanted * channels);
        const std::size_t frames = read_frames(sound.get(), interleaved, channels);
        for (std::size_t i = 0; i < frames; ++i)
            into[i] = finite(interleaved[i * channels + channel]);
        delivered.value += static_cast<std::int64_t>(frames);
        return frames;
    }

    float finite(float sample)
    {
        if (std::isfinite(sample)) return sample;
        ++replaced.value;
        return 0.0F;
    }
};

RecordingReader::RecordingReader(std::unique_ptr<State> state) : state_{std::move(state)} {}
RecordingReader::~RecordingReader() = default;
RecordingReader::RecordingReader(RecordingReader&&) noexcept = default;
RecordingReader& RecordingReader::operator=(RecordingReader&&) noexcept = default;

Result<RecordingReader> RecordingReader::open(const std::string& path)
{
    if (auto trouble = trouble_with_path(path)) return *trouble;
    if (auto trouble = trouble_with_kind(path)) return *trouble;
    Result<OpenedSound> opened = open_sound(path);
    if (!opened) return opened.error();

    const SF_INFO info = opened.value().info;
    auto state = std::make_unique<State>();
    state->path = path;
    state->format = {.sample_rate = {static_cast<double>(info.samplerate)},
                     .length = length_of(info),
                     .channels = info.channels};
    state->lacks_end = is_ogg(info) && !state->format.length;
    if (info.channels > 1) {
        const auto channels = static_cast<std::size_t>(info.channels);
        state->format.channel =
            static_cast<int>(loudest_channel(opened.value().sound.get(), channels));
        // Opened anew rather than rewound: not every packed format can be.
        opened = open_sound(path);
        if (!opened) return opened.error();
    }
    state->sound = std::move(opened.value().sound);
    state->interleaved.reserve(kBlockFrames * static_cast<std::size_t>(info.channels));
    return RecordingReader{std::move(state)};
}

const RecordingFormat& RecordingReader::format() const { return state_->format; }

std::size_t RecordingReader::read(std::span<float> into)
{
    std::size_t filled = 0;
    while (filled < into.size()) {
        const std::size_t got = state_->read_block(into.subspan(filled));
        if (got == 0) break;
        filled += got;
    }
    return filled;
}

SampleCount RecordingReader::replaced() const { return state_->replaced; }

std::optional<std::string> RecordingReader::shortfall() const
{
    const Seconds present = duration_of(state_->delivered, state_->format.sample_rate);
    if (state_->lacks_end)
        return fmt::format("{}: stops after {:.1f} s, before its end; copy or record it again",
                           state_->path, present.count());
    Seconds promised =
        duration_of(state_->format.length.value_or(state_->delivered), state_->format.sample_rate);
    const auto bytes = sound_bytes_of(state_->path);
    if (bytes && bytes->present > 0 && bytes->present < bytes->promised)
        promised =
            present * (static_cast<double>(bytes->promised) / static_cast<double>(bytes->present));
    if (present >= promised) return std::nullopt;
    return fmt::format("{}: stops after {:.1f} s although it says it is {:.1f} s long; copy or "
                       "record it again",
                       state_->path, present.count(), promised.count());
}

std::optional<std::string> sentence_on_replaced(const std::string& path, SampleCount replaced)
{
    if (replaced.value == 0) return std::nullopt;
    return fmt::format(
        "{}: {} {} no number and {} read as silence; record it again if that matters", path,
        replaced.value, replaced.value == 1 ? "sample is" : "samples are",
        replaced.value == 1 ? "was" : "were");
}

Result<Recording> read_recording(const std::string& path)
{
    Result<RecordingReader> opened = RecordingReader::open(path);
    if (!opened) return opened.error();
    RecordingReader& reader = opened.value();
    const SampleRate rate = reader.format().sample_rate;
    const SampleCount most = samples_in(kLongestInMemory, rate);

    Recording recording{.samples = {}, .sample_rate = rate};
    std::vector<float> block(kBlockFrames);
    while (const std::size_t got = reader.read(block)) {
        recording.samples.insert(recording.samples.end(), block.begin(),
                                 block.begin() + static_cast<std::ptrdiff_t>(got));
        if (static_cast<std::int64_t>(recording.samples.size()) > most.value)
            return sentence(path, "is longer than an hour; cut it into shorter pieces");
    }
    if (recording.samples.empty()) return sentence(path, "holds no sound; copy or record it again");
    recording.replaced = reader.replaced();
    recording.shortfall = reader.shortfall();
    return recording;
}

// ---- writing -----------------------------------------------------------------------------------

namespace {

int library_format_of(Encoding encoding)
{
    switch (encoding) {
    case Encoding::wav_16_bit:
        return SF_FORMAT_WAV | SF_FORMAT_PCM_16;
    case Encoding::wav_24_bit:
        return SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    case Encoding::wav_float:
        return SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    case Encoding::flac_16_bit:
        return SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
    case Encoding::flac_24_bit:
        return SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
    }
    return 0;
}

}  // namespace

Outcome write_recording(const std::string& path, const Recording& recording, Encoding encoding)
{
    SF_INFO info{};
    info.channels = 1;
    info.samplerate = static_cast<int>(std::lround(recording.sample_rate.hz));
    info.format = library_format_of(encoding);
    const Sound sound{sf_open(path.c_str(), SFM_WRITE, &info)};
    if (!sound) return sentence(path, "cannot be written; check the folder and its permissions");
    sf_command(sound.get(), SFC_SET_CLIPPING, nullptr, SF_TRUE);
    const auto count = static_cast<sf_count_t>(recording.samples.size());
    if (sf_write_float(sound.get(), recording.samples.data(), count) != count)
        return sentence(path, "could not be written to its end; check that the disk is not full");
    return Done{};
}

}  // namespace holdwell
