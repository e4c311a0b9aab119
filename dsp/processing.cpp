#include "dsp/processing.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

// Hops of 10 ms.
constexpr int kVoice = 30;                // shorter than that no voice is believed
constexpr int kShortGap = 10;             // the same voice goes on after so short a gap
constexpr std::size_t kBlock = 10;        // levels are averaged over 100 ms
constexpr std::size_t kBeforeVoice = 12;  // a voice is known only after it has begun
constexpr std::size_t kLeastQuiet = 50;
constexpr std::size_t kLeastTail = 100;
constexpr int kCleanVoices = 3;

// Mean power of a run of hops, in dBFS.
double mean_level(std::span<const float> levels)
{
    double power = 0.0;
    for (const float level : levels) power += std::pow(10.0, level / 10.0);
    return 10.0 * std::log10(std::max(power / static_cast<double>(levels.size()), 1e-12));
}

double spread(std::span<const double> levels)
{
    const auto [low, high] = std::minmax_element(levels.begin(), levels.end());
    return *high - *low;
}

// Means of successive blocks; without a heap, as hops are pushed where none may be touched.
struct Means {
    std::array<double, 120> values{};
    std::size_t count{0};
    double operator[](std::size_t i) const { return values[i]; }
    std::span<const double> run(std::size_t from, std::size_t n) const
    {
        return std::span{values}.subspan(from, n);
    }
};

Means means_of(std::span<const float> levels, std::size_t hops)
{
    Means means;
    for (std::size_t i = 0; i + hops <= levels.size() && means.count < means.values.size();
         i += hops)
        means.values[means.count++] = mean_level(levels.subspan(i, hops));
    return means;
}

// Of the three blocks that end with this one: single ones are uneven.
double mean_of_last(const Means& means, std::size_t last)
{
    const std::size_t first = last >= 2 ? last - 2 : 0;
    double sum = 0.0;
    for (std::size_t i = first; i <= last; ++i) sum += means[i];
    return sum / static_cast<double>(last - first + 1);
}

// How much the level moves in a run, over 30 ms.
double unrest(std::span<const float> levels)
{
    const Means means = means_of(levels, 3);
    return spread(means.run(0, means.count));
}

}  // namespace

std::string reason_for(MicrophoneProcessing kind)
{
    return kind == MicrophoneProcessing::gain_control
               ? "the computer's automatic gain changes how a voice begins"
               : "the computer's noise suppression changes how a voice begins";
}

std::optional<NoiseStep> noise_step_in(std::span<const float> levels)
{
    constexpr std::size_t kSteady = 12, kFall = 10, kAfter = 30;
    constexpr double kDeep = 12.0, kFlat = 4.0, kFlatAfter = 6.0, kSilent = -90.0;
    std::optional<NoiseStep> found;
    for (std::size_t i = kSteady; i + kFall + kAfter <= levels.size(); ++i) {
        const auto before = levels.subspan(i - kSteady, kSteady);
        const auto after = levels.subspan(i + kFall, kAfter);
        const NoiseStep step{{mean_level(before)}, {mean_level(after)}};
        if ((step.from - step.to).value < kDeep || unrest(before) > kFlat) continue;
        if (step.to.value > kSilent && unrest(after) > kFlatAfter) continue;
        found = step;
    }
    return found;
}

Climb climb_in(std::span<const float> levels, Dbfs before)
{
    constexpr double kDip = 6.0, kFastest = 4.5, kSlips = 3.0, kBack = 4.0, kClimbed = 4.0;
    constexpr std::size_t kWithin = 10, kSoonest = 4, kLatest = 30, kSlow = 10;  // blocks
    const Means means = means_of(levels, kBlock);
    if (means.count < kWithin + kSoonest) return Climb::none;
    std::size_t low = 1;  // the first block may still hold the end of the voice
    for (std::size_t i = 2; i < kWithin; ++i) low = means[i] < means[low] ? i : low;
    if (before.value - means[low] < kDip) return Climb::none;
    std::size_t i = low + 1;
    for (; i < means.count && means[i] < before.value - kBack; ++i) {
        const double rise = means[i] - means[i - 1];
        if (rise < -kSlips || rise > kFastest) return Climb::none;
    }
    const bool is_back = i < means.count;
    if (is_back && means[i] - means[i - 1] > kFastest) return Climb::none;
    const std::size_t took = i - low;
    if (is_back && took < kLatest) return took >= kSoonest ? Climb::back : Climb::none;
    const std::size_t last = std::min(i, means.count - 1);
    const double climbed = mean_of_last(means, last) - means[low];
    if (took >= kSlow && climbed >= kClimbed) return Climb::slowly;
    return is_back ? Climb::none : Climb::on_the_way;
}

bool falls_to_stay(std::span<const float> levels)
{
    constexpr double kDeep = 10.0, kFlat = 4.0, kTurns = 2.5;
    // In blocks. The first is left out: a microphone's first tenth of a second is its own.
    constexpr std::size_t kBegin = 1, kSteady = 3, kLongestFall = 20, kSettles = 3, kStays = 10;
    const Means means = means_of(levels, kBlock);
    if (means.count < kBegin + kSteady + kStays) return false;
    if (spread(means.run(kBegin, kSteady)) > kFlat) return false;
    const double plateau = means[kBegin + 1];
    std::size_t i = kBegin + kSteady;
    for (; i < means.count && means[i] > plateau - kDeep; ++i) {
        if (means[i] > means[i - 1] + kTurns || i > kBegin + kSteady + kLongestFall) return false;
    }
    const std::size_t from = i + kSettles;  // a little further down it may still go
    return from + kStays <= means.count && spread(means.run(from, kStays)) <= kFlat;
}

void ProcessingWatch::push(const FrameReading& r) noexcept
{
    if (is_voice(r.phonation)) {
        hear_voice();
    } else {
        hear_quiet(static_cast<float>(r.hop_level.value));
    }
}

void ProcessingWatch::skip() noexcept
{
    end_tail();
    quiet_heard_ = 0;
    before_.reset();
    start_judged_ = true;
}

void ProcessingWatch::hear_voice() noexcept
{
    if (!start_judged_) judge_start();
    if (unvoiced_ > kShortGap) {
        voiced_ = 0;
        if (tail_.count == 0) before_ = room_before();
    }
    unvoiced_ = 0;
    ++voiced_;
    // The next voice has begun, or this one goes on: the tail is as long as it is.
    if (tail_.count == 0 || voiced_ < kShortGap) return;
    if (climbs_) return judge_slow_tail();
    judge_tail();
    if (climbs_) judge_slow_tail();
}

void ProcessingWatch::hear_quiet(float level) noexcept
{
    ++unvoiced_;
    if (!start_judged_) {
        start_.push(level);
        if (start_.is_full()) judge_start();
    }
    quiet_[quiet_heard_ % kQuiet] = level;
    ++quiet_heard_;
    const bool after_voice = voiced_ >= kVoice || tail_.count > 0;
    if (!after_voice) return;
    tail_.push(level);
    if (tail_.count == kFirstLook && !climbs_) judge_tail();
    if (tail_.is_full()) judge_slow_tail();
}

// A quiet level of the latest seconds without a voice: a breath in is no room.
std::optional<Dbfs> ProcessingWatch::room_before() const noexcept
{
    const std::size_t known = std::min(quiet_heard_, kQuiet);
    if (known < kLeastQuiet + kBeforeVoice) return std::nullopt;
    std::array<float, kQuiet> sorted{};
    const std::size_t n = known - kBeforeVoice;
    for (std::size_t i = 0; i < n; ++i)
        sorted[i] = quiet_[(quiet_heard_ - 1 - kBeforeVoice - i) % kQuiet];
    const auto place = sorted.begin() + static_cast<std::ptrdiff_t>(n / 5);
    std::nth_element(sorted.begin(), place, sorted.begin() + static_cast<std::ptrdiff_t>(n));
    return Dbfs{*place};
}

void ProcessingWatch::judge_start() noexcept
{
    start_judged_ = true;
    if (!falls_to_stay(start_.all())) return;
    was_learning_ = true;
    heard_ = MicrophoneProcessing::noise_suppression;
}

void ProcessingWatch::judge_tail() noexcept
{
    constexpr double kSame = 3.0;  // dB
    const std::span<const float> tail = tail_.all();
    const auto same = [](Dbfs a, Dbfs b) { return std::abs((a - b).value) <= kSame; };
    const std::optional<NoiseStep> step = noise_step_in(tail);
    const bool twice = step && step_ && same(step->from, step_->from) && same(step->to, step_->to);
    const Climb climb = before_ ? climb_in(tail, *before_) : Climb::none;
    if (step) step_ = step;
    if (climb == Climb::back) {
        note(MicrophoneProcessing::gain_control);
    } else if (twice) {
        note(MicrophoneProcessing::noise_suppression);
    } else if (climb != Climb::none) {
        climbs_ = true;  // it may come to something
        return;
    } else {
        note(std::nullopt);
    }
    climbed_slowly_ = false;
    end_tail();
}

void ProcessingWatch::judge_slow_tail() noexcept
{
    const bool slowly = climb_in(tail_.all(), *before_) == Climb::slowly;
    if (slowly && climbed_slowly_) {
        note(MicrophoneProcessing::gain_control);
    } else if (!slowly) {
        note(std::nullopt);
    }
    climbed_slowly_ = slowly;
    end_tail();
}

void ProcessingWatch::end_tail() noexcept
{
    tail_.count = 0;
    voiced_ = 0;
    climbs_ = false;
}

void ProcessingWatch::note(std::optional<MicrophoneProcessing> sign) noexcept
{
    if (sign) {
        heard_ = sign;
        clean_ = 0;
    } else if (tail_.count >= kLeastTail && ++clean_ >= kCleanVoices && !was_learning_) {
        heard_.reset();
    }
}

}  // namespace holdwell
