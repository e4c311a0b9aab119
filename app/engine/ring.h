#pragma once
// Blocks on their way from the audio thread to the worker: bounded, allocated once, never waiting.
//
// One producer and one consumer. Full: the newest block is refused, so that what was heard first is
// heard whole; the producer counts what it could not hand over.

#include <cstddef>

#include <readerwriterqueue.h>

#include "app/engine/audio_block.h"

namespace holdwell {

class AudioRing {
public:
    // 2.5 s of 10 ms blocks: the worker may be kept from running for so long.
    static constexpr std::size_t kBlocks = 256;

    explicit AudioRing(std::size_t blocks = kBlocks) : queue_{blocks} {}

    // False: full. [audio, one producer]
    bool try_push(const AudioBlock& block) noexcept { return queue_.try_enqueue(block); }

    // Fills `block`, as an optional would copy two kilobytes twice. False: empty. [worker]
    bool try_pop(AudioBlock& block) noexcept { return queue_.try_dequeue(block); }

private:
    moodycamel::ReaderWriterQueue<AudioBlock> queue_;
};

}  // namespace holdwell
