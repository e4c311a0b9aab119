#include "app/engine/sound_keeper.h"

#include <algorithm>
#include <cstddef>

namespace holdwell {

void SoundKeeper::begin(SampleRate rate)
{
    rate_ = rate;
    begin_ = {};
    samples_.clear();
}

void SoundKeeper::push(const AudioBlock& block)
{
    const SampleIndex end = begin_ + SampleCount{static_cast<std::int64_t>(samples_.size())};
    const auto most = static_cast<std::size_t>(samples_in(longest_, rate_).value);
    if (samples_.empty() || block.begin < end ||
        (block.begin - end).value > static_cast<std::int64_t>(most)) {
        samples_.clear();
        begin_ = block.begin;
    } else {
        samples_.resize(samples_.size() + static_cast<std::size_t>((block.begin - end).value));
    }
    samples_.insert(samples_.end(), block.samples.begin(),
                    block.samples.begin() + static_cast<std::ptrdiff_t>(block.count));
    // Dropped by halves, so that a sample is moved once at most.
    if (samples_.size() < 2 * most) return;
    const auto dropped = static_cast<std::ptrdiff_t>(samples_.size() - most);
    samples_.erase(samples_.begin(), samples_.begin() + dropped);
    begin_ = begin_ + SampleCount{dropped};
}

SoundClip SoundKeeper::between(SampleIndex begin, SampleIndex end) const
{
    const auto size = static_cast<std::int64_t>(samples_.size());
    const std::int64_t from = std::clamp<std::int64_t>((begin - begin_).value, 0, size);
    const std::int64_t to = std::clamp<std::int64_t>((end - begin_).value, from, size);
    return {.samples = {samples_.begin() + from, samples_.begin() + to}, .rate = rate_};
}

}  // namespace holdwell
