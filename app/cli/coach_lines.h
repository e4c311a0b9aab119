#pragma once
// What the coach says in a terminal: updates of the engine in, lines of plain text out.
//
// Every line is whole and true by itself, so that a screen reader can speak it; nothing is written
// over. While a note is held it speaks every five seconds, at the goal, and not otherwise.

#include <optional>
#include <string>
#include <vector>

#include "app/engine/messages.h"

namespace holdwell {

// Of every recording; what is wrong with one was said beforehand (look_through.h).
inline constexpr const char* kRecordingEnded = "The recording has ended.";

class CoachLines {
public:
    explicit CoachLines(const Drill& drill);

    std::vector<std::string> opening() const;
    std::vector<std::string> apply(const Update& update);
    // What all trials came to; says so when there was none.
    std::vector<std::string> closing() const;

    // Holds heard so far.
    int trials() const { return trials_; }

private:
    std::vector<std::string> at_stage(Stage stage);
    std::vector<std::string> at_frame(const FrameHeard& frame);
    std::vector<std::string> at_trial(const TrialFinished& trial);
    std::vector<std::string> at_discarded(const TrialDiscarded& discarded);
    std::vector<std::string> at_capture(const CaptureChanged& capture);
    void begin_hold();
    void note_lie(const FrameHeard& frame);
    std::string lie_in_words();

    // Where the frames since the last line lay.
    struct Lie {
        int near{0};
        int high{0};
        int low{0};
    };

    Drill drill_;
    SampleRate rate_{48'000.0};
    Stage stage_{Stage::paused};
    Seconds next_mark_{};
    bool holding_{false};
    bool heard_said_{false};
    bool goal_said_{false};
    bool octave_said_{false};
    Lie lie_;
    int trials_{0};
    std::optional<Seconds> best_;  // holds with lost sound left out
};

}  // namespace holdwell
