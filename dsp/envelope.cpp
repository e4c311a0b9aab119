#include "dsp/envelope.h"

#include <algorithm>

namespace holdwell {

namespace {

constexpr Decibels kEdge{20.0};     // below the voice's own level; common practice, no source
constexpr Decibels kOverRoom{6.0};  // least that stands out from the room
constexpr Seconds kStep{2.5e-3};

constexpr std::size_t steps(Seconds d) { return static_cast<std::size_t>(d / kStep + 0.5); }

std::size_t less(std::size_t i, std::size_t by) { return i > by ? i - by : 0; }

// The last value in [first, last) at or above a level; nothing if none is.
std::optional<std::size_t> last_at_or_above(const Envelope& e, std::size_t first, std::size_t last,
                                            Dbfs level)
{
    for (std::size_t i = last; i-- > first;) {
        if (e.level(i) >= level) return i;
    }
    return std::nullopt;
}

// A fall through 5, 12 and 19 dB below the plateau, in values of the envelope.
struct Fall {
    std::size_t at_5, at_12, at_19;
};

// An exponential decay is a straight line in dB; a voice that is let go falls faster and faster.
bool is_room_decay(const Fall& fall)
{
    const std::size_t upper = fall.at_12 - fall.at_5;
    const std::size_t lower = fall.at_19 - fall.at_12;
    const std::size_t whole = upper + lower;
    const bool as_a_room_decays = whole >= steps(50ms) && whole <= steps(250ms);
    return as_a_room_decays && 4 * lower >= 3 * upper;
}

}  // namespace

void Envelope::begin_at(SampleIndex first)
{
    origin_ = first;
    forgotten_ = 0;
    powers_.clear();
}

void Envelope::push(std::span<const float> powers)
{
    powers_.insert(powers_.end(), powers.begin(), powers.end());
}

void Envelope::keep_last(std::size_t kept)
{
    if (powers_.size() <= kept) return;
    const std::size_t gone = powers_.size() - kept;
    powers_.erase(powers_.begin(), powers_.begin() + static_cast<std::ptrdiff_t>(gone));
    forgotten_ += static_cast<std::int64_t>(gone);
}

double Envelope::mean_about(std::size_t i) const
{
    const std::size_t begin = less(i, 2);
    const std::size_t end = std::min(powers_.size(), i + 3);
    double sum = 0.0;
    for (std::size_t j = begin; j < end; ++j) sum += static_cast<double>(powers_[j]);
    return sum / static_cast<double>(end - begin);
}

Dbfs Envelope::level(std::size_t i) const { return level_of(mean_about(i)); }

std::size_t Envelope::index_of(SampleIndex at) const
{
    const std::int64_t i = (at - origin_).value * kPerHop / hop_.value - forgotten_;
    return static_cast<std::size_t>(
        std::clamp<std::int64_t>(i, 0, static_cast<std::int64_t>(powers_.size()) - 1));
}

SampleIndex Envelope::time_of_value(std::size_t i) const
{
    const std::int64_t halves = 2 * (forgotten_ + static_cast<std::int64_t>(i)) + 1;
    return origin_ + SampleCount{halves * hop_.value / (2 * kPerHop)};
}

Dbfs Envelope::quantile(std::size_t first, std::size_t last, double share) const
{
    return quantile_of(means(first, last), share);
}

std::vector<double> Envelope::means(std::size_t first, std::size_t last) const
{
    std::vector<double> result;
    for (std::size_t i = first; i < std::min(last, size()); ++i) result.push_back(mean_about(i));
    return result;
}

Dbfs quantile_of(std::span<const double> means, double share)
{
    if (means.empty()) return kDigitalSilence;
    std::vector<double> sorted(means.begin(), means.end());
    const auto rank =
        static_cast<std::ptrdiff_t>(share * static_cast<double>(sorted.size() - 1) + 0.5);
    std::nth_element(sorted.begin(), sorted.begin() + rank, sorted.end());
    return level_of(sorted[static_cast<std::size_t>(rank)]);  // levels are in the same order
}

Dbfs level_settled_at(const Envelope& e, SampleIndex first_voiced)
{
    const std::size_t voiced = e.index_of(first_voiced);
    return e.quantile(voiced, voiced + steps(400ms), 0.7);
}

SampleIndex find_onset(const Envelope& e, SampleIndex first_voiced, Dbfs settled, Dbfs room)
{
    const std::size_t voiced = e.index_of(first_voiced);
    const Dbfs edge = std::max(settled - kEdge, room + kOverRoom);
    std::size_t i = less(voiced, steps(30ms));
    while (i + 1 < e.size() && e.level(i) < edge) ++i;
    return e.time_of_value(i);
}

SampleIndex find_offset(const Envelope& e, SampleIndex onset, SampleIndex last_voiced, Dbfs room)
{
    const std::size_t begin = e.index_of(onset);
    const std::size_t voiced = e.index_of(last_voiced);
    const std::size_t end = std::min(e.size(), voiced + steps(40ms));
    const std::size_t lately = std::max(begin, less(voiced, steps(1s)));
    const Dbfs plateau = e.quantile(lately, voiced + 1, 0.8);
    const auto last_above = [&](Decibels below) {
        const Dbfs level = std::max(plateau - below, room + kOverRoom);
        return last_at_or_above(e, begin, end, level).value_or(voiced);
    };
    const Fall fall{last_above({5.0}), last_above({12.0}), last_above({19.0})};
    if (is_room_decay(fall)) return e.time_of_value(last_above({3.0}));
    return e.time_of_value(last_above(kEdge));
}

}  // namespace holdwell
