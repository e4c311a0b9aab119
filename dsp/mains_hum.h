#pragma once
// Takes the hum of the mains off a signal, as it was heard while nobody sounded.
//
// In:    samples at about 8 kHz, any scale, without direct current.
// Out:   the same without the hum, once it is known; unchanged before.
// Rule:  what a series of multiples of the mains' 50 or 60 Hz explains to nine tenths for 200 ms is
//        the room. It is remembered as the wave of one mains period, and subtracted from then on,
//        in phase, also while a voice sounds, whatever note that voice is on.
//        A voice at a multiple of the mains' frequency fills only every second, third .. line; so a
//        series counts as hum only if it is no series of such a multiple. No voice is at 50 Hz; one
//        within 3 cents of 60 Hz for 200 ms would be taken for hum.
//        While a voice sounds, the remembered wave may only shift in time, slowly, as the mains'
//        frequency wanders. It is forgotten when it is no longer found in what is heard.
// Not for hum of 100 or 120 Hz and multiples alone: that could be a voice.
// Delay: none.
// State: 200 ms of samples and a table, 11 kB at 8 kHz; nothing is allocated after construction.

#include <array>
#include <complex>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

class MainsHum {
public:
    explicit MainsHum(SampleRate rate);

    // In place.
    void push(std::span<float> x) noexcept;
    // Mean square of what is left over where the hum was learnt; absent while none is known.
    std::optional<double> rest() const noexcept;
    // Forgets the hum and what was heard.
    void reset() noexcept;

private:
    static constexpr std::size_t kMostLines = 72;  // to 3.6 kHz at 50 Hz
    static constexpr std::size_t kTablePoints = 1024;

    struct Series {  // of cosines and sines of the phase
        std::array<std::complex<double>, kMostLines> line{};
        std::size_t count{0};
        double mean_square{0.0};  // of the samples it was fitted to
        double explained{0.0};    // by the series
        Hertz drift{};            // by which its frequency is really higher
    };
    // Sums over the last 100 ms.
    struct Block {
        double heard{0.0};  // x^2
        double hum{0.0};    // h^2
        double both{0.0};   // x h
        double slope{0.0};  // h'^2, h' the derivative of h by the phase
        double late{0.0};   // (x - h) h'
        std::size_t samples{0};
    };

    struct Wave {
        double value;
        double slope;
    };
    Wave wave_at(double phase) const noexcept;
    Series fit(Hertz f, std::size_t lines) const noexcept;
    void end_block() noexcept;
    void look_for_hum() noexcept;
    void learn(Hertz nominal) noexcept;
    void keep(const Series& series) noexcept;
    void follow(double share) noexcept;
    void correct(Hertz drift) noexcept;
    double step() const noexcept { return f_.value / rate_hz_; }

    double rate_hz_;
    std::size_t block_length_;
    std::vector<float> recent_;  // the last two blocks, oldest first
    std::size_t heard_{0};       // of them
    std::vector<float> table_;   // one period of the hum; one point more before, two after
    Hertz f_{};
    Hertz nominal_{};
    double phase_{0.0};  // of the next sample, turns
    bool known_{false};
    double rest_{0.0};
    double found_{1.0};  // share of the hum's amplitude found in what is heard, over half a second
    Block block_;
};

}  // namespace holdwell
