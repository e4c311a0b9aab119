#include "app/engine/sound_keeper.h"

#include <algorithm>
#include <cstddef>

namespace holdwell {

void SoundKeeper::begin(SampleRate rate)
{
    rate_ = rate;
    restart({});
}

void SoundKeeper::push(const AudioBlock& block)
{
    if (samples_.empty() || block.begin < end()) restart(block.begin);
    if (block.begin > end()) leave_out(block);
    samples_.insert(samples_.end(), block.samples.begin(),
                    block.samples.begin() + static_cast<std::ptrdiff_t>(block.count));
    // Dropped by halves, so that a sample is moved once at most.
    if (samples_.size() < 2 * most()) return;
    const auto dropped = static_cast<std::ptrdiff_t>(samples_.size() - most());
    samples_.erase(samples_.begin(), samples_.begin() + dropped);
    begin_ = begin_ + SampleCount{dropped};
    std::erase_if(gaps_, [this](const Gap& gap) { return gap.end <= begin_; });
}

SoundClip SoundKeeper::between(SampleIndex begin, SampleIndex end) const
{
    const auto size = static_cast<std::int64_t>(samples_.size());
    const std::int64_t from = std::clamp<std::int64_t>((begin - begin_).value, 0, size);
    const std::int64_t to = std::clamp<std::int64_t>((end - begin_).value, from, size);
    const bool has_gap = std::ranges::any_of(
        gaps_, [&](const Gap& gap) { return gap.begin < end && gap.end > begin; });
    return {.samples = {samples_.begin() + from, samples_.begin() + to},
            .rate = rate_,
            .has_gap = has_gap};
}

void SoundKeeper::restart(SampleIndex begin)
{
    begin_ = begin;
    samples_.clear();
    gaps_.clear();
}

void SoundKeeper::leave_out(const AudioBlock& before_it)
{
    const auto lost = static_cast<std::size_t>((before_it.begin - end()).value);
    if (lost > most()) {  // what was kept is too old by now, and gone with it
        gaps_ = {{begin_, before_it.begin}};
        samples_.clear();
        begin_ = before_it.begin;
        return;
    }
    gaps_.push_back({end() - before_it.noticed_late, before_it.begin});
    samples_.resize(samples_.size() + lost);
}

SampleIndex SoundKeeper::end() const
{
    return begin_ + SampleCount{static_cast<std::int64_t>(samples_.size())};
}

}  // namespace holdwell
