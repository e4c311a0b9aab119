#include "app/audio/audio_tap.h"

#include <algorithm>

namespace holdwell {

void AudioTap::on_samples(std::span<const float> interleaved) noexcept
{
    const std::size_t most = AudioBlock::kCapacity * static_cast<std::size_t>(channels_);
    while (!interleaved.empty()) {
        const std::size_t now = std::min(interleaved.size(), most);
        fill(block_, interleaved.first(now));
        count(block_);
        interleaved = interleaved.subspan(now);
    }
}

void AudioTap::on_overflow() noexcept
{
    lost_.fetch_add(1, std::memory_order_relaxed);
    delivered_.fetch_add(1, std::memory_order_relaxed);
}

void AudioTap::fill(AudioBlock& block, std::span<const float> interleaved) noexcept
{
    const auto width = static_cast<std::size_t>(channels_);
    block.begin = {delivered_.load(std::memory_order_relaxed)};
    block.count = interleaved.size() / width;
    for (std::size_t n = 0; n < block.count; ++n) {
        float sum = 0.0f;
        for (const float v : interleaved.subspan(n * width, width)) sum += v;
        block.samples[n] = sum / static_cast<float>(channels_);
    }
}

void AudioTap::count(const AudioBlock& block) noexcept
{
    const auto end = block.samples.begin() + static_cast<std::ptrdiff_t>(block.count);
    const auto last_sound = std::find_if(std::make_reverse_iterator(end), block.samples.rend(),
                                         [](float v) { return v != 0.0f; });
    const std::int64_t zeros = end - last_sound.base();
    const auto all = static_cast<std::int64_t>(block.count);
    const std::int64_t before = zeros == all ? zeros_.load(std::memory_order_relaxed) : 0;
    zeros_.store(before + zeros, std::memory_order_relaxed);
    if (!ring_.try_push(block)) lost_.fetch_add(all, std::memory_order_relaxed);
    delivered_.fetch_add(all, std::memory_order_relaxed);
}

ToneFeed::State ToneFeed::fill(std::span<float> interleaved) noexcept
{
    const float fade = hushed_.load(std::memory_order_relaxed) ? kHushPerSample : 0.0f;
    const auto width = static_cast<std::size_t>(channels_);
    for (std::size_t n = 0; n + width <= interleaved.size(); n += width) {
        if (is_over()) ++silent_;
        const float v = is_over() ? 0.0f : gain_ * tone_[next_++];
        gain_ = std::max(0.0f, gain_ - fade);
        for (float& out : interleaved.subspan(n, width)) out = v;
    }
    return is_over() && silent_ >= tail_ ? State::finished : State::sounding;
}

// Six parameters: PortAudio's callback type.
// NOLINTBEGIN(readability-function-size)
int capture_callback(const void* input, void*, unsigned long frames,
                     const PaStreamCallbackTimeInfo*, PaStreamCallbackFlags flags,
                     void* user) noexcept
{
    auto& tap = *static_cast<AudioTap*>(user);
    if ((flags & paInputOverflow) != 0) tap.on_overflow();
    if (input != nullptr) {
        const std::size_t count = frames * static_cast<std::size_t>(tap.channels());
        tap.on_samples({static_cast<const float*>(input), count});
    }
    return paContinue;
}

void capture_ended(void* user) noexcept { static_cast<AudioTap*>(user)->on_end(); }

int tone_callback(const void*, void* output, unsigned long frames, const PaStreamCallbackTimeInfo*,
                  PaStreamCallbackFlags, void* user) noexcept
{
    auto& feed = *static_cast<ToneFeed*>(user);
    const std::size_t count = frames * static_cast<std::size_t>(feed.channels());
    const ToneFeed::State state = feed.fill({static_cast<float*>(output), count});
    return state == ToneFeed::State::sounding ? paContinue : paComplete;
}
// NOLINTEND(readability-function-size)

void tone_ended(void* user) noexcept { static_cast<ToneFeed*>(user)->on_end(); }

}  // namespace holdwell
