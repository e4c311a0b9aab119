#include "app/audio/audio_tap.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "tests/support/allocation_guard.h"

using namespace holdwell;
using holdwell::test::AllocationGuard;

namespace {

// Every frame's channels are numbered around a mean that tells the frame: mean = frame / 1024.
std::vector<float> numbered_frames(int frames, int channels)
{
    std::vector<float> x;
    for (int f = 0; f < frames; ++f) {
        for (int c = 0; c < channels; ++c) {
            const float off_centre = static_cast<float>(2 * c - (channels - 1)) / 64.0f;
            x.push_back(static_cast<float>(f) / 1024.0f + off_centre);
        }
    }
    return x;
}

std::vector<float> everything_in(AudioRing& ring)
{
    std::vector<float> all;
    AudioBlock block;
    while (ring.try_pop(block)) {
        CHECK(block.begin.value == static_cast<std::int64_t>(all.size()));
        all.insert(all.end(), block.samples.begin(),
                   block.samples.begin() + static_cast<std::ptrdiff_t>(block.count));
    }
    return all;
}

}  // namespace

TEST_CASE("taking a block from the microphone allocates nothing, with room in the ring or without")
{
    AudioRing ring{4};
    AudioTap tap{ring, 2};
    const std::vector<float> frames = numbered_frames(480, 2);
    const AllocationGuard guard;
    for (int i = 0; i < 100; ++i) {
        capture_callback(frames.data(), nullptr, 480, nullptr, 0, &tap);
    }
    capture_ended(&tap);
    CHECK(guard.allocations() == 0);
    CHECK(tap.lost().value > 0);  // the ring did fill up
    CHECK(tap.ended());
}

TEST_CASE("the allocation guard sees an allocation")
{
    const AllocationGuard guard;
    const std::vector<float> x(100);
    CHECK(guard.allocations() == 1);
    CHECK(x.size() == 100);
}

TEST_CASE("any number of channels becomes their mean")
{
    for (const int channels : {1, 2, 3, 6, 32}) {
        CAPTURE(channels);
        AudioRing ring;
        AudioTap tap{ring, channels};
        tap.on_samples(numbered_frames(480, channels));
        const std::vector<float> mono = everything_in(ring);
        REQUIRE(mono.size() == 480);
        float worst = 0.0f;
        for (std::size_t n = 0; n < mono.size(); ++n) {
            worst = std::max(worst, std::abs(mono[n] - static_cast<float>(n) / 1024.0f));
        }
        CHECK(worst < 1e-5f);
    }
}

TEST_CASE("frames in any number at a time arrive whole and in order")
{
    for (const std::size_t at_once : {1u, 7u, 64u, 256u, 480u, 481u, 1024u, 4096u}) {
        CAPTURE(at_once);
        AudioRing ring{4096};
        AudioTap tap{ring, 2};
        const std::vector<float> frames = numbered_frames(4096, 2);
        std::span<const float> rest{frames};
        while (!rest.empty()) {
            const std::size_t now = std::min(rest.size(), 2 * at_once);
            tap.on_samples(rest.first(now));
            rest = rest.subspan(now);
        }
        const std::vector<float> mono = everything_in(ring);
        REQUIRE(mono.size() == 4096);
        for (std::size_t n = 0; n < mono.size(); n += 511) {
            CHECK(mono[n] == static_cast<float>(n) / 1024.0f);
        }
        CHECK(tap.delivered().value == 4096);
        CHECK(tap.lost().value == 0);
    }
}

TEST_CASE("a driver that tells of lost samples leaves a gap before those that come next")
{
    AudioRing ring;
    AudioTap tap{ring, 1};
    const std::vector<float> frames = numbered_frames(480, 1);
    const AllocationGuard guard;
    capture_callback(frames.data(), nullptr, 480, nullptr, 0, &tap);
    capture_callback(frames.data(), nullptr, 480, nullptr, paInputOverflow, &tap);
    capture_callback(frames.data(), nullptr, 480, nullptr, paOutputUnderflow, &tap);
    CHECK(guard.allocations() == 0);
    AudioBlock block;
    for (const std::int64_t begin : {0, 481, 961}) {
        REQUIRE(ring.try_pop(block));
        CHECK(block.begin.value == begin);
        CHECK(block.count == 480);
    }
    CHECK(tap.lost().value == 1);
    CHECK(tap.delivered().value == 3 * 480 + 1);
}

TEST_CASE("samples that find the ring full are counted, and what follows keeps its place")
{
    AudioRing ring{1};
    AudioTap tap{ring, 1};
    const std::vector<float> frames = numbered_frames(480, 1);
    int handed_over = 0;
    while (tap.lost().value == 0) {
        tap.on_samples(frames);
        ++handed_over;
    }
    --handed_over;  // the last one was lost
    CHECK(tap.lost().value == 480);
    CHECK(tap.delivered().value == 480 * (handed_over + 1));

    AudioBlock block;
    for (int i = 0; i < handed_over; ++i) REQUIRE(ring.try_pop(block));
    CHECK_FALSE(ring.try_pop(block));
    tap.on_samples(frames);
    REQUIRE(ring.try_pop(block));
    CHECK(block.begin.value == 480 * (handed_over + 1));
    CHECK(tap.lost().value == 480);
}

TEST_CASE("exact zeros at the end are counted across blocks, and any sound ends the count")
{
    AudioRing ring;
    AudioTap tap{ring, 1};
    const std::vector<float> silence(480, 0.0f);
    tap.on_samples(silence);
    tap.on_samples(silence);
    CHECK(tap.zeros().value == 960);
    std::vector<float> click = silence;
    click[99] = 1e-9f;
    tap.on_samples(click);
    CHECK(tap.zeros().value == 380);
    tap.on_samples(silence);
    CHECK(tap.zeros().value == 860);
    click[479] = 1e-9f;
    tap.on_samples(click);
    CHECK(tap.zeros().value == 0);
}

TEST_CASE("a driver that brings no samples changes nothing")
{
    AudioRing ring;
    AudioTap tap{ring, 1};
    CHECK(capture_callback(nullptr, nullptr, 480, nullptr, paInputUnderflow, &tap) == paContinue);
    CHECK(tap.delivered().value == 0);
}

TEST_CASE("a tone is given out once, to every channel, and then silence")
{
    for (const int channels : {1, 2}) {
        CAPTURE(channels);
        ToneFeed feed{{0.1f, 0.2f, 0.3f, 0.4f, 0.5f}, channels};
        std::vector<float> out(static_cast<std::size_t>(4 * channels), 9.0f);
        const AllocationGuard guard;
        CHECK(tone_callback(nullptr, out.data(), 4, nullptr, 0, &feed) == paContinue);
        CHECK(out.front() == 0.1f);
        CHECK(out.back() == 0.4f);
        CHECK(tone_callback(nullptr, out.data(), 4, nullptr, 0, &feed) == paComplete);
        CHECK(guard.allocations() == 0);
        CHECK(out.front() == 0.5f);
        for (std::size_t n = static_cast<std::size_t>(channels); n < out.size(); ++n) {
            CHECK(out[n] == 0.0f);
        }
    }
}

TEST_CASE("a tone, or its fade, is finished only after its tail of silence")
{
    ToneFeed whole{{0.1f, 0.2f, 0.3f}, 2, 5};
    std::vector<float> out(8);                            // 4 frames
    CHECK(whole.fill(out) == ToneFeed::State::sounding);  // one of silence
    CHECK(out[5] == 0.3f);
    CHECK(whole.fill(out) == ToneFeed::State::finished);  // five
    CHECK(out[0] == 0.0f);

    ToneFeed hushed{std::vector<float>(48'000, 0.5f), 1, 480};
    std::vector<float> block(480);
    hushed.hush();
    CHECK(hushed.fill(block) == ToneFeed::State::sounding);
    CHECK(hushed.fill(block) == ToneFeed::State::sounding);  // the fade is 900 frames
    CHECK(block.back() == 0.0f);
    CHECK(hushed.fill(block) == ToneFeed::State::finished);
}

TEST_CASE("a hushed tone fades within 20 ms instead of stopping with a click")
{
    ToneFeed feed{std::vector<float>(48'000, 0.5f), 1};
    std::vector<float> out(480);
    CHECK(feed.fill(out) == ToneFeed::State::sounding);
    feed.hush();
    float previous = out.back();
    float largest_step = 0.0f;
    ToneFeed::State state = ToneFeed::State::sounding;
    for (int blocks = 0; blocks < 2; ++blocks) {
        state = feed.fill(out);
        for (const float v : out) {
            largest_step = std::max(largest_step, std::abs(v - previous));
            previous = v;
        }
    }
    CHECK(state == ToneFeed::State::finished);
    CHECK(previous < 0.001f);
    CHECK(largest_step < 0.001f);  // half of full scale in 900 steps is 0.0006 each
}
