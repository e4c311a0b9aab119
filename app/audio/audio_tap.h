#pragma once
// All of our code that runs on the audio thread, and the only code that does: it copies samples,
// counts, and returns. Nothing here allocates, locks, waits, throws or calls the system.
//
// AudioTap takes samples in; ToneFeed gives a prepared tone out. The callbacks below hand
// PortAudio's memory to them.

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <portaudio.h>

#include "app/engine/ring.h"

namespace holdwell {

class AudioTap {
public:
    AudioTap(AudioRing& ring, int channels) : ring_{ring}, channels_{channels} {}

    // Copies interleaved frames into the ring as mono blocks (the mean of the channels), or counts
    // them as lost when the ring is full. [audio]
    void on_samples(std::span<const float> interleaved) noexcept;

    // The driver says that samples were lost before those that come next, not how many: one is
    // counted, so that there is a gap. A loss of 50 ms and more is found by stream_health.h as
    // well, by its length. [audio]
    void on_overflow() noexcept;

    // The device has gone, or the stream was closed. [audio]
    void on_end() noexcept { ended_.store(true, std::memory_order_release); }

    int channels() const noexcept { return channels_; }

    // Samples since the stream started; handed over or lost. [any, concurrent]
    SampleCount delivered() const noexcept { return {delivered_.load(std::memory_order_relaxed)}; }
    // Of these, lost because the ring was full, or by the driver. [any, concurrent]
    SampleCount lost() const noexcept { return {lost_.load(std::memory_order_relaxed)}; }
    // Samples at the end of those delivered that are exactly zero. [any, concurrent]
    SampleCount zeros() const noexcept { return {zeros_.load(std::memory_order_relaxed)}; }
    // [any, concurrent]
    bool ended() const noexcept { return ended_.load(std::memory_order_acquire); }

private:
    void fill(AudioBlock& block, std::span<const float> interleaved) noexcept;
    void count(const AudioBlock& block) noexcept;

    AudioRing& ring_;
    const int channels_;
    AudioBlock block_{};                      // filled in place: 2 kB are not for a stack
    std::atomic<std::int64_t> delivered_{0};  // written here only; relaxed, as each stands alone
    std::atomic<std::int64_t> lost_{0};
    std::atomic<std::int64_t> zeros_{0};
    std::atomic<bool> ended_{false};
};

class ToneFeed {
public:
    // `tail`: frames of silence after the tone or its fade, before the feed is finished. A finished
    // stream is stopped, and what of it lies in the driver's buffer is never heard.
    ToneFeed(std::vector<float> tone, int channels, std::size_t tail = 0)
        : tone_{std::move(tone)}, channels_{channels}, tail_{tail}
    {
    }

    enum class State { sounding, finished };

    // The next frames, the same in every channel; silence after the end. [audio]
    State fill(std::span<float> interleaved) noexcept;

    // Fades out at once. [any, concurrent]
    void hush() noexcept { hushed_.store(true, std::memory_order_relaxed); }

    void on_end() noexcept { ended_.store(true, std::memory_order_release); }  // [audio]
    bool ended() const noexcept { return ended_.load(std::memory_order_acquire); }
    int channels() const noexcept { return channels_; }

private:
    static constexpr float kHushPerSample = 1.0f / 900.0f;  // 19 ms at 48 kHz: no click
    bool is_over() const noexcept { return next_ == tone_.size() || !(gain_ > 0.0f); }

    std::vector<float> tone_;
    const int channels_;
    const std::size_t tail_;
    std::size_t next_{0};
    std::size_t silent_{0};  // frames since the end
    float gain_{1.0f};
    std::atomic<bool> hushed_{false};
    std::atomic<bool> ended_{false};
};

// For PortAudio; `user` is an AudioTap or a ToneFeed. [audio]
int capture_callback(const void* input, void* output, unsigned long frames,
                     const PaStreamCallbackTimeInfo* time, PaStreamCallbackFlags flags,
                     void* user) noexcept;
void capture_ended(void* user) noexcept;
int tone_callback(const void* input, void* output, unsigned long frames,
                  const PaStreamCallbackTimeInfo* time, PaStreamCallbackFlags flags,
                  void* user) noexcept;
void tone_ended(void* user) noexcept;

}  // namespace holdwell
