#include "dsp/phonation_timer.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr int kHopsToBegin = 10;     // a phonation shows itself after 100 ms
constexpr int kHopsToResume = 6;     // after a gap, so that one stray window does not bridge it
constexpr int kHopsOfTolerance = 3;  // a lip or the tongue may hide the voice for so long
constexpr Seconds kLongestFry{0.5};
constexpr Seconds kLongestFaint{0.5};
constexpr Decibels kFaint{15.0};       // below the phonation's own median
constexpr std::size_t kHistory = 400;  // values of the envelope kept while nobody sounds: 1 s

// Gaps that the voice itself leaves in its envelope.
constexpr Decibels kDip{12.0};
constexpr std::size_t kShortestDip = 8;  // values of the envelope: 20 ms

// Air for so long between two notes is a breath taken; less is the voice's own that went on without
// it. What dies away is no air but the echo of the note, even in a room that rings for 1.3 s.
constexpr std::size_t kShortestBreath = 15;  // hops
constexpr double kDiesAway = 45.0;           // dB per second

constexpr int kLevelBins = 121;  // 0 .. -120 dBFS

std::size_t level_bin(Dbfs level)
{
    return static_cast<std::size_t>(std::clamp(-level.value, 0.0, kLevelBins - 1.0));
}

// A hiss is none: in speech it is a consonant.
bool is_air(const ContourPoint& point) { return point.phonation == Phonation::breath; }

double median_level_of(std::span<const ContourPoint> points)
{
    std::vector<double> levels;
    for (const ContourPoint& point : points) levels.push_back(point.level.value);
    const auto middle = levels.begin() + static_cast<std::ptrdiff_t>(levels.size() / 2);
    std::nth_element(levels.begin(), middle, levels.end());
    return *middle;
}

// Whether a breath was taken in a gap between two voices. The first air counts: what comes up later
// in a long gap may be the room, turned up by a computer's automatic gain.
bool has_in_breath(std::span<const ContourPoint> gap, Seconds hop)
{
    const auto first = std::ranges::find_if(gap, is_air);
    const auto end = std::find_if_not(first, gap.end(), is_air);
    const std::span<const ContourPoint> air{first, end};
    if (air.size() < kShortestBreath) return false;
    const std::size_t third = air.size() / 3;
    const double fall = median_level_of(air.first(third)) - median_level_of(air.last(third));
    return fall < kDiesAway * static_cast<double>(air.size() - third) * hop.count();
}

// Whether a value may lie well below the median of those before it, told by counting: many times
// quicker than to find the median, which few values need.
bool may_be_in_dip(std::span<const double> before, double mean_square)
{
    const double limit = mean_square * gain_of(kDip) * gain_of(kDip) * (1.0 - 1e-9);
    const auto above = std::ranges::count_if(before, [&](double m) { return m > limit; });
    return static_cast<std::size_t>(above) >= before.size() - before.size() / 2;
}

// Stretches of the envelope that lie well below what came before them.
std::vector<Interruption> find_dips(const Envelope& e, SampleIndex onset, SampleIndex offset,
                                    SampleRate rate)
{
    std::vector<Interruption> dips;
    constexpr std::size_t kBefore = 80;  // 200 ms
    const std::size_t begin = e.index_of(onset);
    const std::size_t end = e.index_of(offset);
    const std::vector<double> means = e.means(begin, end);
    for (std::size_t i = begin + kBefore / 4; i + kShortestDip < end; ++i) {
        const std::size_t from = std::max(begin, i > kBefore ? i - kBefore : 0);
        const auto before = std::span{means}.subspan(from - begin, i - from);
        if (!may_be_in_dip(before, means[i - begin])) continue;
        const Dbfs edge = quantile_of(before, 0.5) - kDip;
        if (e.level(i) >= edge) continue;
        std::size_t stop = i;
        while (stop < end && e.level(stop) < edge) ++stop;
        if (stop - i >= kShortestDip && stop < end) {
            const SampleIndex at = e.time_of_value(i);
            dips.push_back({at, duration_of(e.time_of_value(stop) - at, rate)});
        }
        i = stop + kBefore / 4;
    }
    return dips;
}

}  // namespace

PhonationTimer::PhonationTimer(const AnalysisConfig& config, const PhonationRule& rule)
    : config_{config}, rule_{rule}, envelope_{hop_length(config)}, level_counts_(kLevelBins, 0)
{
}

Seconds PhonationTimer::since(SampleIndex earlier, SampleIndex later) const
{
    return duration_of(later - earlier, config_.sample_rate);
}

void PhonationTimer::push(const FrameReading& reading)
{
    if (envelope_.size() == 0) envelope_.begin_at(reading.hop_begin);
    envelope_.push(reading.quarter_power);
    if (state_ == State::idle) {
        envelope_.keep_last(kHistory);
        if (reading.phonation == Phonation::voiced) {
            begin(contour_point_of(reading), reading.noise_floor);
        }
        return;
    }
    if (state_ == State::spent) return wait_for_end(reading);
    contour_.push_back(contour_point_of(reading));
    if (reading.phonation == Phonation::voiced) {
        take_voiced(reading);
    } else {
        take_unvoiced(reading);
    }
}

// What is left of a hold that has faded is not another one.
void PhonationTimer::wait_for_end(const FrameReading& reading)
{
    envelope_.keep_last(kHistory);
    unvoiced_in_run_ = reading.phonation == Phonation::voiced ? 0 : unvoiced_in_run_ + 1;
    if (unvoiced_in_run_ > kHopsOfTolerance || reading.level >= spent_below_) state_ = State::idle;
}

void PhonationTimer::begin(const ContourPoint& first, Dbfs room)
{
    state_ = State::beginning;
    contour_.assign(1, first);
    good_ = 1;
    run_begin_ = 0;
    first_voiced_ = last_good_ = onset_ = first.at;
    room_ = room;
    voiced_in_run_ = 1;
    unvoiced_in_run_ = gaps_ = 0;
    fry_ = Seconds{};
    faint_since_.reset();
    std::fill(level_counts_.begin(), level_counts_.end(), 0);
    has_lost_ = false;
}

void PhonationTimer::take_voiced(const FrameReading& reading)
{
    if (voiced_in_run_ == 0) run_begin_ = contour_.size() - 1;
    ++voiced_in_run_;
    unvoiced_in_run_ = 0;
    if (state_ == State::gap) {
        resume(reading);
        if (state_ == State::gap) return;
    }
    good_ = contour_.size();
    last_good_ = reading.centre;
    ++level_counts_[level_bin(reading.level)];
    if (state_ == State::beginning) {
        if (voiced_in_run_ < kHopsToBegin) return;
        state_ = State::sounding;
        onset_ =
            find_onset(envelope_, first_voiced_, level_settled_at(envelope_, first_voiced_), room_);
    }
    if (has_faded(reading)) end(HoldEnd::faded);
}

// The voice is back after a gap: goes on when the gap was short enough and no breath was taken in
// it, else begins anew.
void PhonationTimer::resume(const FrameReading& reading)
{
    if (voiced_in_run_ < kHopsToResume) return;
    const auto gap = std::span{contour_}.subspan(good_, run_begin_ - good_);
    const bool is_short = since(last_good_, contour_[run_begin_].at) <= rule_.bridge + config_.hop;
    const bool breathed = rule_.ends_with_breath && has_in_breath(gap, config_.hop);
    if (is_short && !breathed) {
        state_ = State::sounding;
        ++gaps_;
        return;
    }
    const std::vector<ContourPoint> run(contour_.begin() + static_cast<std::ptrdiff_t>(run_begin_),
                                        contour_.end());
    end(HoldEnd::voice_stopped);
    begin(run.front(), reading.noise_floor);
    contour_ = run;
    voiced_in_run_ = static_cast<int>(run.size());
}

void PhonationTimer::take_unvoiced(const FrameReading& reading)
{
    ++unvoiced_in_run_;
    if (reading.phonation == Phonation::fry) fry_ += config_.hop;
    if (unvoiced_in_run_ <= kHopsOfTolerance) return;
    voiced_in_run_ = 0;
    if (state_ == State::beginning) {
        state_ = State::idle;
        return;
    }
    state_ = State::gap;
    if (fry_ > kLongestFry) {
        end(HoldEnd::fry);
    } else if (since(last_good_, reading.centre) > rule_.bridge + kHopsToResume * config_.hop &&
               reading.phonation != Phonation::fry) {
        end(HoldEnd::voice_stopped);
    }
}

Dbfs PhonationTimer::median_level() const
{
    int total = 0;
    for (const int n : level_counts_) total += n;
    int louder = 0;
    std::size_t bin = 0;
    while (bin + 1 < level_counts_.size() && 2 * (louder + level_counts_[bin]) < total) {
        louder += level_counts_[bin++];
    }
    return {-static_cast<double>(bin) - 0.5};
}

// More than 15 dB below its own median for more than half a second.
bool PhonationTimer::has_faded(const FrameReading& reading)
{
    if (reading.level >= median_level() - kFaint) {
        faint_since_.reset();
        return false;
    }
    if (!faint_since_) faint_since_ = reading.centre;
    return since(*faint_since_, reading.centre) > kLongestFaint;
}

void PhonationTimer::end(HoldEnd why)
{
    Phonated p;
    const SampleIndex last = why == HoldEnd::faded && faint_since_ ? *faint_since_ : last_good_;
    p.onset = find_onset(envelope_, first_voiced_, median_level(), room_);
    p.offset = find_offset(envelope_, p.onset, last, room_);
    p.ended_by = why;
    contour_.resize(good_);
    while (!contour_.empty() && contour_.back().at > last) contour_.pop_back();
    p.contour = std::move(contour_);
    p.interruptions = find_dips(envelope_, p.onset, p.offset, config_.sample_rate);
    p.fry = fry_;
    p.room = room_;
    p.has_gap = has_lost_;
    contour_ = {};
    finished_.push_back(std::move(p));
    spent_below_ = median_level() - kFaint;
    state_ = why == HoldEnd::faded ? State::spent : State::idle;
    envelope_.keep_last(kHistory);
}

void PhonationTimer::skip(SampleCount lost)
{
    if (state_ == State::idle) {
        envelope_ = Envelope{hop_length(config_)};
        return;
    }
    has_lost_ = true;
    const auto values =
        static_cast<std::size_t>(lost.value * Envelope::kPerHop / hop_length(config_).value);
    const std::vector<float> silence(values, 0.0f);
    envelope_.push(silence);
}

void PhonationTimer::finish()
{
    if (state_ == State::sounding || state_ == State::gap) {
        end(state_ == State::gap ? HoldEnd::voice_stopped : HoldEnd::stream_ended);
    }
    state_ = State::idle;
}

std::optional<PhonationTimer::UnderWayNow> PhonationTimer::under_way() const
{
    if (state_ != State::sounding && state_ != State::gap) return std::nullopt;
    return UnderWayNow{onset_, last_good_, gaps_};
}

std::vector<Phonated> PhonationTimer::take_finished()
{
    std::vector<Phonated> taken;
    taken.swap(finished_);
    return taken;
}

}  // namespace holdwell
