#pragma once
// What each screen shows, ready to draw: every choice, rounding and sentence is made already.
//
// Two views that compare equal look the same: the window redraws only when its view changes.

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/pages/page.h"
#include "app/ui/events.h"
#include "app/ui/palette.h"

namespace holdwell {

// A key and what it does; clicking it does the same.
struct KeyHint {
    std::string key;   // "Space"
    std::string does;  // "pause"
    Event event{Action::proceed};
    bool operator==(const KeyHint&) const = default;
};

// How loud it is now: a row of equal steps, some of them lit, and the words for it.
struct MeterView {
    static constexpr int kSteps = 12;
    int lit{0};         // 0 .. kSteps
    std::string words;  // "room quiet, voice easy"
    bool operator==(const MeterView&) const = default;
};

// ---- pictures ------------------------------------------------------------------------------

struct InkPoint {
    double at_s{0.0};    // since the onset
    double height{0.0};  // 0 on the target, +1 and -1 at the edges of the band; -kReach .. kReach
    bool operator==(const InkPoint&) const = default;
};
using InkStroke = std::vector<InkPoint>;  // unbroken; between two strokes the voice paused

struct PenTip {
    InkPoint point;
    double breath{0.0};  // 0 .. 1, with the level
    bool operator==(const PenTip&) const = default;
};

// One hold: time to the right, deviation upwards, the band as the ribbon's height.
struct RibbonView {
    static constexpr double kReach = 1.5;  // bands; what is farther off is drawn here

    double length_s{20.0};           // the ribbon, from the onset to its right end
    std::optional<double> shore_s;   // the goal; absent: none
    std::string shore_name;          // "18 s"
    std::optional<double> notch_s;   // the longest yet
    std::string notch_name;          // "longest yet"
    std::string high, middle, low;   // at the left; all empty on a ribbon by time alone
    std::vector<InkStroke> ink;      // in order of time
    std::optional<PenTip> tip;       // while the voice sounds
    std::optional<double> filled_s;  // instead of ink: time alone, or the line is hidden
    std::vector<double> gaps_s;      // middles of the interruptions
    double tick_s{5.0};              // a named tick every so many seconds
    bool operator==(const RibbonView&) const = default;
};

struct PathPoint {
    double at_s{0.0};
    double semitones{0.0};  // above GlideView::lowest_line
    bool operator==(const PathPoint&) const = default;
};
struct GlideMark {
    double at_s{0.0};
    std::string name;  // "jump", "gap"
    bool operator==(const GlideMark&) const = default;
};
struct NoteLine {
    double semitones{0.0};
    std::string name;  // "C4"
    bool operator==(const NoteLine&) const = default;
};

// One glide: time to the right, semitones upwards.
struct GlideView {
    double length_s{5.0};
    double height_semitones{24.0};
    std::vector<NoteLine> lines;                    // the Cs, faint
    std::vector<std::vector<PathPoint>> strokes;   // broken where the voice broke
    std::vector<std::vector<PathPoint>> previous;  // faint, behind
    std::vector<GlideMark> breaks;
    std::optional<PathPoint> lowest, highest;  // as sustained
    std::string lowest_name, highest_name;
    std::optional<double> fry_below_semitones;  // top of the fry zone; absent: below the picture
    bool operator==(const GlideView&) const = default;
};

// ---- screens -------------------------------------------------------------------------------

struct TextSection {
    std::string heading;
    std::string body;
    bool operator==(const TextSection&) const = default;
};
// The cautions, and the help.
struct TextView {
    std::string title;
    std::string lead;
    std::vector<TextSection> sections;
    std::vector<KeyHint> keys;
    bool operator==(const TextView&) const = default;
};

struct SoundCheckView {
    std::string title;
    std::string line;    // what to do now
    std::string detail;  // why, or what was found
    MeterView meter;
    std::vector<std::string> findings;  // one sentence each
    std::string microphone;             // "Microphone: Desk microphone"
    std::vector<std::string> choices;   // names as shown; may be empty
    int chosen{-1};                     // of choices
    int focused{-1};
    std::string advice;
    std::vector<KeyHint> keys;
    bool operator==(const SoundCheckView&) const = default;
};

struct PracticeView {
    std::string drill;               // "Warm-up hold"
    std::string drill_aim;           // "first of two, as long as the breath is easy"
    std::string note;                // "F4"; empty without a target
    KeyHint hear;                    // "hear it"
    std::string stopwatch;           // "12.4"
    std::vector<std::string> facts;  // "seconds", "longest yet 16.2", "goal 18"
    std::variant<RibbonView, GlideView> picture;
    std::string line;    // what to do now, or what was heard
    std::string second;  // "easy start"
    std::string notice;  // something is amiss; empty when all is well
    MeterView meter;
    std::vector<KeyHint> keys;
    bool operator==(const PracticeView&) const = default;
};

struct ChoiceRow {
    std::string label;
    std::string value;
    std::string meaning;  // one line, of the row in focus only
    bool operator==(const ChoiceRow&) const = default;
};
struct NoteChip {
    PickNote pick;
    std::string name;
    bool chosen{false};
    bool operator==(const NoteChip&) const = default;
};
struct ChoicesView {
    std::string title;
    std::vector<std::vector<NoteChip>> notes;  // the usual ones, a group a line
    std::vector<std::string> note_groups;      // a name for each
    std::vector<ChoiceRow> rows;
    int focused{0};
    std::vector<KeyHint> keys;
    bool operator==(const ChoicesView&) const = default;
};

struct NoMicrophoneView {
    std::string title;
    std::string line;
    std::string detail;
    std::vector<KeyHint> offers;
    std::vector<KeyHint> keys;
    bool operator==(const NoMicrophoneView&) const = default;
};

struct Figure {
    std::string name;
    std::string value;
    bool operator==(const Figure&) const = default;
};
struct FigureGroup {
    std::string title;
    std::vector<Figure> figures;
    bool operator==(const FigureGroup&) const = default;
};
struct DetailsView {
    std::string title;
    std::string lead;
    std::vector<FigureGroup> groups;
    std::vector<KeyHint> keys;
    bool operator==(const DetailsView&) const = default;
};

struct ToleranceView {
    std::string title;
    std::string lead;
    std::string note;
    std::string band;          // "± 100 cents"
    std::string band_meaning;  // "one semitone to each side"
    double band_cents{100.0};
    double shown_cents{300.0};   // from the middle to the top of the picture
    std::vector<InkStroke> ink;  // the last seconds; heights in cents, times before now negative
    std::optional<double> now_cents;  // the voice now
    double seconds_shown{6.0};
    std::string line;  // "near enough", "a little high"
    MeterView meter;
    std::vector<KeyHint> edges;  // hear the note and its edges, change the band
    std::vector<KeyHint> keys;
    bool operator==(const ToleranceView&) const = default;
};

using ScreenView = std::variant<TextView, SoundCheckView, PracticeView, ChoicesView,
                                NoMicrophoneView, DetailsView, ToleranceView, PageView>;

// What of a screen came to be seen.
struct Seen {
    int page{0};
    int last_page{0};
    struct Rows {
        int first{0};
        int last{0};
    };
    std::optional<Rows> rows{};  // of a page, whole; none: there are none on this part of it
};

enum class ShadeWish { light, dark, as_system };
struct WindowView {
    ScreenView screen;
    ShadeWish shade{ShadeWish::as_system};
    int text_percent{100};
    int page{0};  // pages scrolled down, on screens that hold more than fits
    // A page shows its row in focus, unless it was turned away from it.
    enum class Shows { row_in_focus, page } shows{Shows::row_in_focus};
    bool operator==(const WindowView&) const = default;
};

}  // namespace holdwell
