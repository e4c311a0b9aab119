#include "app/audio/sound_system.h"

#include <utility>
#include <vector>

namespace holdwell {

std::optional<CaptureAnswer> CaptureRequest::take_answer()
{
    const std::lock_guard lock{mutex_};
    return std::exchange(answer_, std::nullopt);
}

std::optional<CaptureAnswer> CaptureRequest::withdraw()
{
    const std::lock_guard lock{mutex_};
    withdrawn_ = true;
    return std::exchange(answer_, std::nullopt);
}

bool CaptureRequest::answer(const CaptureAnswer& answer)
{
    const std::lock_guard lock{mutex_};
    if (!withdrawn_) answer_ = answer;
    return !withdrawn_;
}

SoundSystem::SoundSystem() : state_{std::make_shared<State>()} {}

SoundSystem::~SoundSystem()
{
    thread_.post([state = state_] { state->session.reset(); });
}

std::shared_ptr<CaptureRequest> SoundSystem::request_capture(const std::string& name,
                                                             DeviceList devices)
{
    auto request = std::make_shared<CaptureRequest>();
    thread_.post([state = state_, request, name, devices] {
        PortAudioSession& session = *state->session;
        const Outcome ready = devices == DeviceList::anew ? session.restart() : session.start();
        if (!ready) {
            request->answer(ready.error());
            return;
        }
        const CaptureAnswer opened = session.open_capture(name);
        if (!request->answer(opened) && opened) session.close_capture(opened.value());
    });
    return request;
}

void SoundSystem::withdraw(const std::shared_ptr<CaptureRequest>& request)
{
    const std::optional<CaptureAnswer> come = request->withdraw();
    if (come && *come) release(come->value());
}

void SoundSystem::release(std::shared_ptr<CaptureStream> stream)
{
    thread_.post(
        [state = state_, stream = std::move(stream)] { state->session->close_capture(stream); });
}

void SoundSystem::play(const ToneRequest& tone)
{
    thread_.post([state = state_, tone] { begin_tone(*state, tone); });
}

void SoundSystem::begin_tone(State& state, const ToneRequest& tone)
{
    const Outcome ready = state.session->start();
    const auto begun =
        ready ? state.session->play(tone) : Result<std::shared_ptr<ToneFeed>>{ready.error()};
    const std::lock_guard lock{state.mutex};
    if (begun) {
        state.tone = begun.value();
    } else {
        state.news.trouble = begun.error().message;
    }
}

void SoundSystem::look_for_microphones()
{
    thread_.post([state = state_] {
        if (!state->session->start()) return;
        std::vector<std::string> names;
        for (const InputDevice& device : state->session->inputs()) names.push_back(device.name);
        const std::lock_guard lock{state->mutex};
        state->news.microphones = std::move(names);
    });
}

SoundNews SoundSystem::take_news()
{
    close_ended_tone();
    const std::lock_guard lock{state_->mutex};
    return std::exchange(state_->news, SoundNews{});
}

// An open output keeps a loudspeaker awake, and a simple device from everybody else.
void SoundSystem::close_ended_tone()
{
    {
        const std::lock_guard lock{state_->mutex};
        if (!state_->tone || !state_->tone->ended()) return;
        state_->tone.reset();
    }
    thread_.post([state = state_] { state->session->close_ended_tones(); });
}

}  // namespace holdwell
