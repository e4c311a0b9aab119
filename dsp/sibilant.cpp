#include "dsp/sibilant.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace holdwell {

namespace {

using Shape = SibilantTrack::Shape;

constexpr std::size_t kMostKept = 64;
constexpr Seconds kSettle{250ms};   // after its beginning its level there is known
constexpr Seconds kOwnPace{500ms};  // time constant of its recent level
// Hops. A beginning may be hidden for long, by talk or rumble below 3 kHz; but not behind a change
// of voicing, which is known about 30 ms after it happens.
constexpr std::int64_t kOnsetReach = 80;
constexpr std::int64_t kOffsetReach = 3;
constexpr std::int64_t kVoicingDelay = 3;

std::int64_t hops_in(Seconds d, Seconds hop)
{
    return std::max<std::int64_t>(0, std::llround(d / hop));
}

Shape shape_of_s(const FricationReading& r, Pitch pitch, const SibilantConfig& c)
{
    if (pitch == Pitch::present) return Shape::wrong;
    if (aperiodic_kind(r, c.enter) == Phonation::frication) return Shape::may_begin;
    return holds(c.leave_bright, brightness_of(r, c.enter)) ? Shape::may_go_on : Shape::other_below;
}

Shape shape_of_z(const FricationReading& r, Pitch pitch, const SibilantConfig& c)
{
    if (pitch == Pitch::absent) return Shape::wrong;
    const Decibels over_low = brightness_of(r, c.enter).over_low;
    const bool sounds = r.hiss_smooth >= r.hiss_floor + c.enter.over_room;
    if (sounds && over_low >= c.z_over_low) return Shape::may_begin;
    return over_low >= c.z_leave_over_low ? Shape::may_go_on : Shape::wrong;
}

void add(std::vector<Sibilant>& list, const std::optional<Sibilant>& sound)
{
    if (sound && list.size() < kMostKept) list.push_back(*sound);
}

}  // namespace

SibilantTrack::SibilantTrack(const AnalysisConfig& analysis, const SibilantConfig& config)
    : config_{config}, rate_{analysis.sample_rate}, hop_samples_{static_cast<double>(
                                                        hop_length(analysis).value)},
      bridge_{hops_in(config.bridge, analysis.hop)}, shortest_{hops_in(config.shortest,
                                                                       analysis.hop)},
      confirm_{std::max<std::int64_t>(1, hops_in(config.confirm, analysis.hop))},
      settle_{hops_in(kSettle, analysis.hop)},
      own_pace_{1.0 - std::exp(-(analysis.hop / kOwnPace))}, course_{analysis.hop}
{
}

SampleIndex SibilantTrack::sample_at(double slice) const noexcept
{
    const double from_newest =
        slice / static_cast<double>(HissEdges::kSlices) - static_cast<double>(hop_);
    return hop_begin_ + SampleCount{std::llround(from_newest * hop_samples_)};
}

void SibilantTrack::look_for_beginning(const FricationReading& r, Shape shape) noexcept
{
    if (shape != Shape::may_begin) {
        candidate_hops_ = 0;
        return;
    }
    if (candidate_hops_ == 0) {
        first_good_ = hop_;
        onset_reach_ = std::min(kOnsetReach, hop_ - last_wrong_ + kVoicingDelay);
        room_ = r.hiss_floor;
        own_ = r.hiss;
        power_sum_ = 0.0;
        power_hops_ = 0;
        unrest_sum_ = 0.0;
        course_.begin();
    }
    take_level(r);
    if (++candidate_hops_ < confirm_) return;
    sounding_ = true;
    onset_placed_ = false;
    candidate_hops_ = 0;
    onset_ = sample_at(static_cast<double>(first_good_ * HissEdges::kSlices));
}

void SibilantTrack::take_level(const FricationReading& r) noexcept
{
    last_good_ = hop_;
    // Up at once, down slowly: the level that it has, not the one that it is losing.
    const bool louder = r.hiss_smooth > own_;
    const double pace = louder ? 0.3 : own_pace_;
    own_.value += pace * (r.hiss_smooth.value - own_.value);
    power_sum_ += mean_square_of(r.hiss);
    if (power_hops_ > 0) unrest_sum_ += std::abs((r.hiss - last_hiss_).value);
    last_hiss_ = r.hiss;
    ++power_hops_;
}

bool SibilantTrack::is_steady() const noexcept
{
    const auto good = static_cast<double>(power_hops_);
    const auto all = static_cast<double>(last_good_ - first_good_ + 1);
    return good >= config_.least_share_good * all &&
           unrest_sum_ <= config_.most_unrest.value * good;
}

bool SibilantTrack::goes_on(const FricationReading& r, Shape shape) const noexcept
{
    const bool heard = r.hiss_smooth >= room_ + config_.leave_over_room &&
                       r.hiss_smooth >= own_ - config_.leave_below_own;
    const bool steady = std::abs((r.hiss_smooth - own_).value) <= config_.steady_within.value;
    return heard && (shape == Shape::may_go_on || shape == Shape::may_begin ||
                     (shape == Shape::other_below && steady));
}

void SibilantTrack::place_onset(const HissEdges& edges) noexcept
{
    // Two hops in: the first may hold the edge itself.
    const double slice = edges.onset({mean_square_of(room_), first_good_ + 2, onset_reach_});
    onset_ = sample_at(slice);
    onset_placed_ = true;
}

std::optional<Sibilant> SibilantTrack::push(const FricationReading& r, Shape shape,
                                            const HissEdges& edges) noexcept
{
    hop_ = edges.hops() - 1;
    hop_begin_ = r.begin;
    if (shape == Shape::wrong) last_wrong_ = hop_;
    if (!sounding_) {
        look_for_beginning(r, shape);
        return std::nullopt;
    }
    course_.push(r.hiss);
    if (goes_on(r, shape)) take_level(r);
    if (!onset_placed_ && hop_ - first_good_ >= settle_) place_onset(edges);
    if (hop_ - last_good_ > bridge_) return end(edges);
    return std::nullopt;
}

std::optional<Sibilant> SibilantTrack::end(const HissEdges& edges) noexcept
{
    if (!onset_placed_) place_onset(edges);
    sounding_ = false;
    const double room = mean_square_of(room_);
    const SampleIndex offset = sample_at(edges.offset({room, last_good_, kOffsetReach}));
    const double shortest_samples = static_cast<double>(shortest_) * hop_samples_;
    const bool long_enough = static_cast<double>((offset - onset_).value) >= shortest_samples;
    if (!long_enough || !is_steady()) return std::nullopt;
    const double power = power_sum_ / static_cast<double>(std::max<std::int64_t>(1, power_hops_));
    return Sibilant{onset_, offset, level_of(std::max(0.0, power - room)),
                    course_.fades_like_suppression(room_)};
}

std::optional<Sibilant> SibilantTrack::finish(const HissEdges& edges) noexcept
{
    candidate_hops_ = 0;
    return sounding_ ? end(edges) : std::nullopt;
}

SibilantUnderWay SibilantTrack::under_way() const noexcept
{
    const SampleIndex until = sample_at(static_cast<double>((last_good_ + 1) * HissEdges::kSlices));
    return {onset_, duration_of(until - onset_, rate_), Pitch::absent};
}

SibilantTimer::SibilantTimer(const AnalysisConfig& analysis, const SibilantConfig& config)
    : config_{config}, s_{analysis, config}, z_{analysis, config}
{
    finished_.s_holds.reserve(kMostKept);
    finished_.z_holds.reserve(kMostKept);
}

void SibilantTimer::push(const FricationReading& reading, Pitch pitch) noexcept
{
    edges_.push(reading);
    add(finished_.s_holds, s_.push(reading, shape_of_s(reading, pitch, config_), edges_));
    add(finished_.z_holds, z_.push(reading, shape_of_z(reading, pitch, config_), edges_));
}

void SibilantTimer::finish() noexcept
{
    add(finished_.s_holds, s_.finish(edges_));
    add(finished_.z_holds, z_.finish(edges_));
}

std::optional<SibilantUnderWay> SibilantTimer::under_way() const noexcept
{
    if (s_.is_sounding()) return s_.under_way();
    if (!z_.is_sounding()) return std::nullopt;
    SibilantUnderWay z = z_.under_way();
    z.pitch = Pitch::present;
    return z;
}

SibilantsHeard SibilantTimer::take_finished()
{
    // Asked after every hop: nothing is allocated when nothing ended.
    if (finished_.s_holds.empty() && finished_.z_holds.empty()) return {};
    SibilantsHeard taken = std::exchange(finished_, {});
    finished_.s_holds.reserve(kMostKept);
    finished_.z_holds.reserve(kMostKept);
    return taken;
}

}  // namespace holdwell
