#pragma once
// A sound system that does what a test tells it, in place of devices.

#include <algorithm>
#include <cstdint>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "app/engine/audio_source.h"

namespace holdwell::test {

// What the test says and sees; shared with the ports. Guarded, as a LiveCoach has its own thread.
class ScriptedSound {
public:
    void say(const SourceStatus& status)
    {
        const std::lock_guard lock{mutex_};
        status_ = status;
    }

    // Cut into blocks of 480, the first of them at `begin`.
    void hear(std::span<const float> samples, SampleIndex begin)
    {
        const std::lock_guard lock{mutex_};
        while (!samples.empty()) {
            AudioBlock block;
            block.begin = begin;
            block.count = std::min(samples.size(), AudioBlock::kCapacity);
            std::copy_n(samples.begin(), block.count, block.samples.begin());
            blocks_.push_back(block);
            begin = begin + SampleCount{static_cast<std::int64_t>(block.count)};
            samples = samples.subspan(block.count);
        }
    }

    std::size_t blocks_left()
    {
        const std::lock_guard lock{mutex_};
        return blocks_.size();
    }

    void tell(const SoundNews& news)
    {
        const std::lock_guard lock{mutex_};
        news_ = news;
    }

    std::vector<std::string> opened() { return copy_of(opened_); }
    std::vector<std::string> remembered() { return copy_of(remembered_); }
    std::vector<ToneRequest> tones()
    {
        const std::lock_guard lock{mutex_};
        return tones_;
    }

    // `self` lives as long as the ports do.
    static SoundPorts ports(const std::shared_ptr<ScriptedSound>& self);

private:
    class Source;

    std::vector<std::string> copy_of(const std::vector<std::string>& names)
    {
        const std::lock_guard lock{mutex_};
        return names;
    }

    std::mutex mutex_;
    SourceStatus status_;
    std::deque<AudioBlock> blocks_;
    SoundNews news_;
    std::vector<std::string> opened_;
    std::vector<std::string> remembered_;
    std::vector<ToneRequest> tones_;
};

class ScriptedSound::Source final : public AudioSource {
public:
    explicit Source(std::shared_ptr<ScriptedSound> script) : script_{std::move(script)} {}

    bool try_take(AudioBlock& block) override
    {
        const std::lock_guard lock{script_->mutex_};
        if (script_->status_.stream == 0 || script_->blocks_.empty()) return false;
        block = script_->blocks_.front();
        script_->blocks_.pop_front();
        return true;
    }

    SourceStatus status() override
    {
        const std::lock_guard lock{script_->mutex_};
        return script_->status_;
    }

private:
    std::shared_ptr<ScriptedSound> script_;
};

inline SoundPorts ScriptedSound::ports(const std::shared_ptr<ScriptedSound>& self)
{
    return {
        .open_microphone = [self](const std::string& name) -> std::unique_ptr<AudioSource> {
            const std::lock_guard lock{self->mutex_};
            self->opened_.push_back(name);
            return std::make_unique<Source>(self);
        },
        .open_recording = [self](const std::string& path) -> Result<std::unique_ptr<AudioSource>> {
            if (path == "missing.wav") return Error{"missing.wav: there is no such file"};
            return std::unique_ptr<AudioSource>{std::make_unique<Source>(self)};
        },
        .play_tone =
            [self](const ToneRequest& tone) {
                const std::lock_guard lock{self->mutex_};
                self->tones_.push_back(tone);
            },
        .look_for_microphones = [] {},
        .take_news =
            [self] {
                const std::lock_guard lock{self->mutex_};
                return std::exchange(self->news_, SoundNews{});
            },
        .remembered_microphone = [] { return std::string{"the usual one"}; },
        .remember_microphone =
            [self](const std::string& name) {
                const std::lock_guard lock{self->mutex_};
                self->remembered_.push_back(name);
            },
    };
}

}  // namespace holdwell::test
