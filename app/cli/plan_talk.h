#pragma once
// A plan's practice in plain lines: what happens goes in, lines are written, trials are kept, and
// commands for the engine come out. The terminal's side of what the window does.

#include <optional>
#include <string>
#include <vector>

#include "app/cli/coach_lines.h"
#include "app/cli/console.h"
#include "app/engine/guided_practice.h"
#include "app/office/office.h"

namespace holdwell {

class PlanTalk {
public:
    // The practice is known to the records already.
    PlanTalk(GuidedPractice guided, Practice practice, Office& office, const Console& console);

    void begin();
    void hear(const Update& update);
    // What the person typed: p, n, a, q, x or nothing.
    void type(const std::string& line);
    // As if q had been typed twice.
    void stop();

    std::vector<Command> take_commands();
    bool is_over() const { return guided_.wants_rating(); }
    const SoundMemory& sound_memory() const { return guided_.sound_memory(); }
    // As it stands: completion, sound check and the trials kept.
    Practice practice() const;

private:
    void carry_on();
    void keep(HeardTrial heard);
    void begin_drill(const Drill& drill);
    void say(const std::string& line);
    void say_phase();
    void say_of_other_drills(const Update& update);

    GuidedPractice guided_;
    Practice practice_;
    Office& office_;
    const Console& console_;
    std::vector<Command> commands_;
    std::optional<CoachLines> hold_lines_;  // while a hold is asked for
    std::optional<CaptureChanged> capture_;
    std::optional<Drill> drill_;
    std::string said_;  // of the phase, last
    std::string notice_;
    SampleRate rate_{48'000.0};
};

}  // namespace holdwell
