#include "app/audio/microphone.h"

#include <chrono>
#include <utility>

namespace holdwell {

namespace {

constexpr Seconds kBetweenTries{1.0};
constexpr Seconds kLongestAnswer{1.5};

constexpr const char* kLost =
    "The microphone has gone: it was unplugged, or the sound system stopped. What was heard so far "
    "is kept, and listening goes on by itself when it is back.";
constexpr const char* kStalled =
    "Nothing comes from the microphone any more. What was heard so far is kept, and listening goes "
    "on by itself when it is back.";
constexpr const char* kMuted =
    "The microphone sends only silence. It may be muted: look for its switch, or a mute key.";
constexpr const char* kNothingComes =
    "The microphone was found, but nothing comes from it. Please check the computer's sound "
    "settings, or choose another microphone.";
constexpr const char* kNoAnswer =
    "The computer's sound system does not answer. Listening begins by itself when it does.";

SteadyTime steady_now() { return std::chrono::steady_clock::now(); }

}  // namespace

Microphone::Microphone(std::shared_ptr<SoundSystem> sound, std::string name)
    : sound_{std::move(sound)}, name_{std::move(name)}
{
    ask(steady_now(), DeviceList::anew);
}

Microphone::~Microphone()
{
    if (request_) sound_->withdraw(request_);
    if (stream_) sound_->release(stream_);
}

bool Microphone::try_take(AudioBlock& block)
{
    if (!announced_ || !stream_->ring.try_pop(block)) return false;
    block.begin = block.begin + never_arrived_;
    block.noticed_late = std::exchange(noticed_late_, {});
    return true;
}

SourceStatus Microphone::status()
{
    const SteadyTime now = steady_now();
    if (stream_) {
        watch(now);
    } else if (request_) {
        look_for_answer(now);
    } else if (now >= next_try_) {
        ask(now, DeviceList::anew);
    }
    return status_;
}

void Microphone::ask(SteadyTime now, DeviceList devices)
{
    request_ = sound_->request_capture(name_, devices);
    asked_at_ = now;
}

void Microphone::look_for_answer(SteadyTime now)
{
    const std::optional<CaptureAnswer> answer = request_->take_answer();
    if (!answer) {
        if (now - asked_at_ > kLongestAnswer && !has_been_heard()) {
            say(CaptureState::no_device, kNoAnswer);
        }
        return;
    }
    request_.reset();
    if (*answer) {
        begin(answer->value(), now);
        return;
    }
    next_try_ = now + kBetweenTries;
    if (!has_been_heard()) say(CaptureState::no_device, answer->error().message);
}

void Microphone::begin(std::shared_ptr<CaptureStream> stream, SteadyTime now)
{
    stream_ = std::move(stream);
    health_.emplace(stream_->rate, now);
    drift_.emplace(stream_->rate);
    never_arrived_ = {};
    noticed_late_ = {};
    announced_ = false;
}

void Microphone::watch(SteadyTime now)
{
    const AudioTap& tap = stream_->tap;
    switch (health_->step(now, {tap.delivered(), tap.zeros(), tap.ended()})) {
    case StreamState::waiting:
        break;
    case StreamState::dead:
        let_go(now);
        break;
    case StreamState::silent:
        announce();
        say(CaptureState::muted, kMuted);
        count_losses(now);
        break;
    case StreamState::flowing:
        announce();
        say(CaptureState::live, stream_->remark);
        count_losses(now);
        break;
    }
}

// The first samples have come: from here on they are handed out, as a stream of their own.
void Microphone::announce()
{
    if (announced_) return;
    announced_ = true;
    ++status_.stream;
    status_.device = stream_->device;
    status_.sample_rate = stream_->rate;
}

void Microphone::count_losses(SteadyTime now)
{
    const SampleCount missing = drift_->step(now, stream_->tap.delivered());
    if (missing.value == 0) return;
    never_arrived_ = never_arrived_ + missing;
    noticed_late_ = samples_in(AudioBlock::kLossKnownWithin, stream_->rate);
}

void Microphone::let_go(SteadyTime now)
{
    if (has_been_heard()) {
        say(CaptureState::lost, stream_->tap.ended() ? kLost : kStalled);
    } else {
        say(CaptureState::no_device, kNothingComes);
    }
    sound_->release(std::exchange(stream_, nullptr));
    announced_ = false;
    next_try_ = now + kBetweenTries;
}

void Microphone::say(CaptureState state, std::string message)
{
    status_.state = state;
    status_.message = std::move(message);
}

}  // namespace holdwell
