#pragma once
// A recording made step by step, with the truth about it: signal and truth from one description.
//
//   const ScriptedTake take = SignalScript{SampleRate{48'000.0}, 7}
//                                 .silence(1s)
//                                 .voice({.f0 = steady(Hertz{349.2})}, 5s)
//                                 .silence(1s)
//                                 .with_noise(NoiseKind::pink, Decibels{20.0})
//                                 .build();
//
// Sounds are laid one after the other; `with_` and `in_` act on all that was laid so far, in the
// order of the calls. Everything random follows from the seed.

#include <cstdint>
#include <optional>
#include <vector>

#include "dsp/units.h"
#include "tests/support/noise.h"
#include "tests/support/random.h"
#include "tests/support/voice.h"

namespace holdwell::test {

enum class SoundKind { voice, fry, breath, sibilant, noise };

struct TrueSound {
    SoundKind kind{SoundKind::voice};
    // Where the amplitude leaves and reaches zero.
    Seconds begin{};
    Seconds end{};
    // Where the ramps pass 20 dB below full strength: what an ear or a detector can know.
    Seconds heard_begin{};
    Seconds heard_end{};
};

struct ScriptedTake {
    SampleRate rate{};
    std::vector<float> samples;
    std::vector<TrueSound> sounds;  // a voice with gaps is several, one after the other
    std::vector<PhaseTrack> phases;
    Seconds f0_span{0.040};  // over which the true f0 is a mean

    // True f0 (see PhaseTrack); absent where no voice sounds.
    std::optional<Hertz> f0_at(Seconds t) const;
    // Whether a voice sounds all through t - margin .. t + margin.
    bool voiced_throughout(Seconds t, Seconds margin) const;
    // Whether nothing of a voice or fry sounds within t - margin .. t + margin.
    bool voiceless_throughout(Seconds t, Seconds margin) const;
    Seconds length() const;
};

class SignalScript {
public:
    SignalScript(SampleRate rate, std::uint64_t seed);

    SignalScript& silence(Seconds length);
    SignalScript& voice(const Voice& voice, Seconds length);
    // With ramps of 10 ms.
    SignalScript& air(NoiseKind kind, Seconds length, Dbfs level);
    SignalScript& pulses(Fry range, Seconds length, Dbfs level);
    SignalScript& blow(Thump thump, Seconds length, Dbfs level);

    // Noise under all so far, by its ratio to the mean square of the voiced parts.
    SignalScript& with_noise(NoiseKind kind, Decibels voice_to_noise);
    SignalScript& with_noise(NoiseKind kind, Dbfs level);
    SignalScript& in_room(Room room);
    SignalScript& high_passed(Hertz corner);  // 24 dB an octave: a small loudspeaker's microphone
    SignalScript& overdriven(Decibels gain);  // then cut off at full scale
    SignalScript& quantised(int bits);


    ScriptedTake build() const;

private:
    void append(const std::vector<double>& x, double gain);
    void note_voice(const Voice& voice, Seconds begin, Seconds end);
    void add(const std::vector<double>& x, double gain);
    double voiced_mean_square() const;
    Seconds now() const;
    std::uint64_t next_seed() { return random_.next(); }

    SampleRate rate_;
    Random random_;
    std::vector<double> mix_;
    std::vector<TrueSound> sounds_;
    std::vector<PhaseTrack> phases_;
};

}  // namespace holdwell::test
