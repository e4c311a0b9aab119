#include "app/cli/measure_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <span>
#include <utility>

#include "app/cli/look_through.h"
#include "app/files/recording.h"

namespace holdwell {

namespace {

constexpr std::size_t kBlock = 4800;

// An /s/ has its energy at 4 to 10 kHz, which slower sampling cuts off.
constexpr SampleRate kLowestForSibilants{44'100.0};

std::optional<std::string> refusal(const std::string& path, SampleRate rate, Sought sought)
{
    const bool sibilant = sought == Sought::s_hold || sought == Sought::z_hold;
    if (!sibilant || rate >= kLowestForSibilants) return std::nullopt;
    return fmt::format("{}: has {:.0f} samples a second, and an /s/ cannot be heard below 44100; "
                       "record it at 44100 or 48000",
                       path, rate.hz);
}

void note_processing(Measured& measured, std::optional<MicrophoneProcessing> heard)
{
    if (!heard || std::ranges::find(measured.processing, *heard) != measured.processing.end())
        return;
    measured.processing.push_back(*heard);
}

Measured listen_to(RecordingReader& reader, const ListeningTask& task)
{
    const SampleRate rate = reader.format().sample_rate;
    Measured measured;
    measured.sample_rate = rate;
    Listener listener{{.sample_rate = rate}, task};
    const auto on_reading = [&](const FrameReading& reading) {
        note_processing(measured, listener.processing());
        measured.clipped_samples += reading.clipped_samples;
        measured.noise_floor = reading.noise_floor;
    };
    std::vector<float> block(kBlock);
    while (const std::size_t got = reader.read(block)) {
        listener.push(std::span{block}.first(got), on_reading);
        measured.length = measured.length + SampleCount{static_cast<std::int64_t>(got)};
    }
    listener.finish();
    measured.heard = listener.take_finished();
    return measured;
}

}  // namespace

FileMeasures measure_file(const std::string& path, const ListeningTask& task)
{
    FileMeasures result{.file = path, .measured = {}};
    Result<RecordingReader> opened = RecordingReader::open(path);
    if (!opened) {
        result.error = opened.error().message;
        return result;
    }
    RecordingReader& reader = opened.value();
    result.error = refusal(path, reader.format().sample_rate, task.sought);
    if (result.error) return result;

    Measured measured = listen_to(reader, task);
    if (measured.length.value == 0) {
        result.error = sentence_on_no_sound(path);
        return result;
    }
    result.measured = std::move(measured);
    result.error = reader.shortfall();
    if (auto warning = sentence_on_replaced(path, reader.replaced()))
        result.warnings.push_back(std::move(*warning));
    return result;
}

}  // namespace holdwell
