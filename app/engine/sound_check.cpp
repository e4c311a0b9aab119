#include "app/engine/sound_check.h"

#include <algorithm>

namespace holdwell {

namespace {

constexpr std::size_t kRoomHops = 200;
constexpr std::size_t kVoiceHops = 150;
constexpr Decibels kGood{20.0};
constexpr Decibels kUsable{10.0};

Dbfs median_of(std::vector<double> levels)
{
    const auto middle = levels.begin() + static_cast<std::ptrdiff_t>(levels.size() / 2);
    std::nth_element(levels.begin(), middle, levels.end());
    return {*middle};
}

RoomVerdict verdict_of(Decibels snr)
{
    if (snr >= kGood) return RoomVerdict::quiet;
    return snr >= kUsable ? RoomVerdict::usable : RoomVerdict::noisy;
}

}  // namespace

bool SoundCheck::knows_room() const { return room_.size() >= kRoomHops; }

void SoundCheck::push(const FrameReading& reading, std::optional<Dbfs> a_weighted)
{
    clipped_ += reading.clipped_samples;
    const bool voiced = reading.phonation == Phonation::voiced;
    if (!knows_room()) {
        // Somebody who speaks at once is no part of the room.
        if (voiced) return;
        room_.push_back(reading.hop_level.value);
        if (a_weighted) a_weighted_room_.push_back(a_weighted->value);
    } else if (voiced) {
        voice_.push_back(reading.hop_level.value);
    }
}

std::optional<SoundCheckFinished> SoundCheck::result() const
{
    if (voice_.size() < kVoiceHops) return std::nullopt;
    const Dbfs room = median_of(room_);
    const Dbfs voice = median_of(voice_);
    const Decibels snr = voice - room;
    SoundCheckFinished finished{
        .noise_floor = room,
        .voice_level = voice,
        .snr = snr,
        .clipped_samples = clipped_,
        .room = verdict_of(snr),
    };
    if (!a_weighted_room_.empty()) finished.a_weighted_room = median_of(a_weighted_room_);
    return finished;
}

}  // namespace holdwell
