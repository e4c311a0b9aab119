#pragma once
// Blocks on their way from the audio thread to the worker: bounded, allocated once, never waiting.
//
// One producer and one consumer. Full: the newest block is refused, so that what was heard first is
// heard whole; the producer counts what it could not hand over.

#include <atomic>
#include <cstddef>

#include <readerwriterqueue.h>

#include "app/engine/audio_block.h"

namespace holdwell {

class AudioRing {
public:
    // 2.5 s of 10 ms blocks: the worker may be kept from running for so long.
    static constexpr std::size_t kBlocks = 256;

    explicit AudioRing(std::size_t blocks = kBlocks) : capacity_{blocks}, queue_{blocks} {}

    // False: full. [audio, one producer]
    bool try_push(const AudioBlock& block) noexcept
    {
        const std::size_t pushed = pushed_.load(std::memory_order_relaxed);  // only we change it
        if (pushed - popped_.load(std::memory_order_acquire) >= capacity_) return false;
        if (!queue_.try_enqueue(block)) return false;
        pushed_.store(pushed + 1, std::memory_order_release);  // publishes the block
        return true;
    }

    // Fills `block`, as an optional would copy two kilobytes twice. False: empty. [worker]
    bool try_pop(AudioBlock& block) noexcept
    {
        const std::size_t popped = popped_.load(std::memory_order_relaxed);  // only we change it
        if (pushed_.load(std::memory_order_acquire) == popped) return false;
        if (!queue_.try_dequeue(block)) return false;
        popped_.store(popped + 1, std::memory_order_release);  // hands the place back
        return true;
    }

private:
    const std::size_t capacity_;
    moodycamel::ReaderWriterQueue<AudioBlock> queue_;
    // The queue orders its hand-over by fences, which the thread sanitizer cannot follow. These two
    // say the same in a form that it can check, so that nothing has to be exempted from the check.
    alignas(64) std::atomic<std::size_t> pushed_{0};  // a cache line each
    alignas(64) std::atomic<std::size_t> popped_{0};
};

}  // namespace holdwell
