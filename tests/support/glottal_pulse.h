#pragma once
// One cycle of the derivative of glottal flow, as a table over the phase 0 .. 1.
//
// Liljencrants-Fant model with the one-parameter control of G. Fant, "The LF-model revisited",
// STL-QPSR 2-3/1995: r_d 0.3 (pressed) .. 2.7 (breathy); modal voice is near 1.
// The main excitation, of height -1, falls at phase t_e = (1 + R_k) / (2 R_g), 0.4 .. 0.9.

#include <vector>

namespace holdwell::test {

class GlottalPulse {
public:
    explicit GlottalPulse(double r_d);

    // Linear between 8192 points; phase 0 .. 1.
    double at(double phase) const
    {
        const double place = phase * kPoints;
        const auto index = static_cast<std::size_t>(place);
        const double share = place - static_cast<double>(index);
        return table_[index] + share * (table_[index + 1] - table_[index]);
    }

private:
    static constexpr int kPoints = 8192;
    std::vector<double> table_;  // kPoints + 2, so that phase 1 stays inside
};

}  // namespace holdwell::test
