#pragma once
// The room's own level in one band, learnt from the quiet between sounds.
//
// In:    one mean square a hop, of the hop or smoothed over about 30 ms, and what is known about
// the sound. Out:   the mean square of the room, never below `lowest`. State: a few numbers; no
// allocation.
//
// The rule: the first 100 or 200 ms give a start value. After that the room is followed at once
// when it grows quieter, slowly when it is near what is known, and not at all while something
// sounds.

#include <optional>

#include "dsp/units.h"

namespace holdwell {

// Chosen by us: times in which a person breathes or moves are longer, a door or a word shorter.
struct RoomFloorConfig {
    Seconds learn{200ms};  // start value: mean of the first hops
    Dbfs loudest_start{0.0};
    Seconds down{60ms};    // time constant when clearly below the floor
    Seconds near{1.0};     // time constant when within `near_band` of it
    Seconds up{3.0};       // time constant when above that and yet not sounding
    Seconds adopt{500ms};  // time constant once a sound has become part of the room
    Decibels near_band{3.0};
    std::optional<Decibels> rise{};  // in a second, at most; absent: no limit
    Dbfs lowest{-90.0};  // below the noise of any microphone; keeps digital silence finite
};

// For the voice band: a recording may begin in the middle of a note, and a voice that fades into
// breath, or a word between two holds, must not become the room. What limits it is `rise`.
inline constexpr RoomFloorConfig kVoiceBandRoom{.learn = 100ms,
                                                .loudest_start = {-40.0},
                                                .near = 60ms,
                                                .up = 60ms,
                                                .rise =
                                                    Decibels{3.0},  // common practice, no source
                                                .lowest = kDigitalSilence};

enum class Evidence {
    quiet,         // nothing sounds: the room may be learnt
    sounding,      // the room is hidden: learn only if it is quieter than was known
    part_of_room,  // it has sounded for so long that it is the room now
};

class RoomFloor {
public:
    RoomFloor(Seconds hop, const RoomFloorConfig& config = {});
    // Knows the room already.
    RoomFloor(Seconds hop, const RoomFloorConfig& config, double mean_square);

    // Takes in one hop; gives the floor as known now. [any]
    double push(double mean_square, Evidence evidence) noexcept;
    // Nothing is known yet: push is still averaging its start value.
    bool is_learning() const noexcept { return learnt_ < hops_to_learn_; }
    double mean_square() const noexcept { return floor_; }
    // Learns afresh from the next hop.
    void reset() noexcept;

private:
    double pace_for(double mean_square, Evidence evidence) const noexcept;

    double lowest_;
    double loudest_start_;
    double rise_ratio_;
    double near_ratio_;
    double down_, near_, up_, adopt_;  // share of the way gone in one hop
    int hops_to_learn_;
    int learnt_{0};
    double floor_;
};

}  // namespace holdwell
