#pragma once
// When the window is drawn anew, and how long it may sleep until then. Pure: the caller brings the
// time, which never runs back.
//
// What is heard is drawn 30 times a second: evenly, so that a frame that comes late does not put
// off those after it. What the person does is drawn up to 60 times a second. Where nothing has
// changed nothing is drawn.

#include "dsp/units.h"

namespace holdwell {

class Redraw {
public:
    enum class View { as_drawn, changed };

    // The person has done something: what follows from it may take two frames to settle.
    void on_change() { asked_for_ = 2; }
    bool is_due(Seconds now, View view) const;
    // 0 when a frame is due.
    Seconds until_due(Seconds now, View view) const;
    void on_drawn(Seconds now);

private:
    static constexpr Seconds kBetweenHeard{1.0 / 30.0};
    static constexpr Seconds kBetweenDone{1.0 / 60.0};
    // Nothing is waited for beyond this, so that a lost wake-up is not noticed.
    static constexpr Seconds kLongestSleep{0.5};

    int asked_for_{2};      // frames
    Seconds soonest_{};     // for what the person does
    Seconds next_heard_{};  // for what is heard
};

}  // namespace holdwell
