#include "app/audio/replay.h"

#include <filesystem>
#include <utility>

namespace holdwell {

Result<std::unique_ptr<AudioSource>> Replay::open(const std::string& path, Clock clock)
{
    Result<RecordingReader> reader = RecordingReader::open(path);
    if (!reader) return reader.error();
    return std::unique_ptr<AudioSource>{
        new Replay{std::move(reader.value()), path, std::move(clock)}};
}

Replay::Replay(RecordingReader reader, const std::string& path, Clock clock)
    : reader_{std::move(reader)}, clock_{std::move(clock)}
{
    status_.state = CaptureState::live;
    status_.device = std::filesystem::path{path}.filename().string();
    status_.sample_rate = reader_.format().sample_rate;
    status_.stream = 1;
    read_ahead();
}

bool Replay::try_take(AudioBlock& block)
{
    if (next_.count == 0) {
        end();
        return false;
    }
    if (!begin_) begin_ = clock_();
    const SampleIndex end_of_next =
        next_.begin + SampleCount{static_cast<std::int64_t>(next_.count)};
    if (clock_() - *begin_ < time_of(end_of_next, status_.sample_rate)) return false;
    block = next_;
    next_.begin = end_of_next;
    read_ahead();
    return true;
}

void Replay::read_ahead() { next_.count = reader_.read(next_.samples); }

void Replay::end()
{
    status_.state = CaptureState::recording_ended;
    status_.message = reader_.shortfall().value_or("");
}

}  // namespace holdwell
