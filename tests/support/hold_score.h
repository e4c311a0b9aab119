#pragma once
// How well the holds that were heard agree with the true ones of a scripted take.

#include <span>
#include <vector>

#include "tests/support/hold_gallery.h"

namespace holdwell::test {

struct HeardHold {
    Seconds onset;
    Seconds offset;
    std::vector<Seconds> gaps;
};

// Signed, heard minus true, one for every true hold that was heard.
struct HoldErrors {
    std::vector<double> onset_ms;
    std::vector<double> offset_ms;
    std::vector<double> duration_ms;
    int holds{0};
    int missed{0};    // true holds that no heard hold overlaps
    int invented{0};  // heard holds of a second or more beyond one for each true hold
    int gaps{0};
    int gaps_missed{0};  // interruptions of 40 ms or more that were not listed

    void add(const HoldErrors& other);
};
HoldErrors errors_of(std::span<const HeardHold> heard, std::span<const TrueHold> truth);

}  // namespace holdwell::test
