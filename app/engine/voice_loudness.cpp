#include "app/engine/voice_loudness.h"

namespace holdwell {

void VoiceLoudness::know_comfortable(std::optional<Dbfs> level)
{
    comfortable_ = level;
    guard_.reset();
    // The routine asks for a voice no louder than the comfortable one.
    if (level) guard_.emplace(*level, hop_);
    begin_trial();
}

void VoiceLoudness::begin_trial()
{
    if (guard_) guard_->reset();
    trial_ = guard_ ? Loudness::as_asked : Loudness::unknown;
}

Loudness VoiceLoudness::push(const FrameReading& reading)
{
    if (!guard_) return Loudness::unknown;
    const auto voice =
        is_voice(reading.phonation) ? LoudnessGuard::Voice::sounding : LoudnessGuard::Voice::silent;
    if (!guard_->push(reading.level, voice)) return Loudness::as_asked;
    trial_ = Loudness::much_louder;
    return trial_;
}

std::optional<Decibels> VoiceLoudness::over_comfortable(Dbfs level) const
{
    if (!comfortable_) return std::nullopt;
    return relative_to_comfortable(level, *comfortable_);
}

}  // namespace holdwell
