#pragma once
// Pages: the screens that are read and filled in rather than sung to: today, the questions before
// and after a practice, progress, the roster, the plan, files.
//
// A page is a column of blocks. What a page says and does is decided here, without a window; how a
// block is drawn is decided once for all pages (app/ui/draw_page.h).

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "app/office/requests.h"
#include "app/practice/records.h"

namespace holdwell {

// ---- what a page shows ----------------------------------------------------------------------

struct TextBlock {
    std::string heading{};  // may be empty
    std::string body{};     // may be empty
    enum class Weight { plain, large, quiet } weight{Weight::plain};
    bool operator==(const TextBlock&) const = default;
};

// A line that can be gone to. Its number among all rows of the page, from 0, is what PickRow means.
struct RowBlock {
    enum class Kind {
        button,       // proceed does it
        value,        // left and right change it
        text,         // can be typed into
        hidden_text,  // the same, shown as dots
        link,         // proceed opens it; columns may follow the label
    } kind{Kind::button};
    std::string label{};
    std::string value{};                 // "2", "± 100 cents"; text: as typed
    std::vector<std::string> columns{};  // of a link: beside the label, in even columns
    std::string meaning{};               // one line, shown for the row in focus
    std::string fault{};                 // one sentence, shown always
    enum class Size { usual, large } size{Size::usual};  // large: the one thing to do
    bool operator==(const RowBlock&) const = default;
};

// Names over the columns of the links that follow; the first stands over their labels.
struct ColumnHeadBlock {
    std::vector<std::string> names{};
    bool operator==(const ColumnHeadBlock&) const = default;
};

// Points over days, one series each; what is said beside a chart says the same in words.
struct ChartBlock {
    struct Point {
        double day{0.0};  // from the left edge; parts of a day tell practices apart
        double value{0.0};
        enum class Mark { filled, open, cross } mark{Mark::filled};
        bool operator==(const Point&) const = default;
    };
    std::string title{};    // "Hold on F4"
    std::string unit{};     // "s"
    std::string summary{};  // in words, above the picture
    std::vector<Point> points{};
    std::vector<Point> line{};  // joined: medians of weeks
    std::optional<double> goal{};
    std::string goal_name{};                                  // "goal 18 s"
    double first_value{0.0}, last_value{1.0};                 // of the upright axis
    double days{7.0};                                         // shown
    std::vector<std::pair<double, std::string>> day_names{};  // below the picture
    std::vector<double> breaks_at{};                          // days at which the set-up changed
    enum class Size { usual, small } size{Size::usual};       // small ones stand side by side
    bool operator==(const ChartBlock&) const = default;
};

// The days of one or more weeks: how much of what was asked was done.
struct DaysBlock {
    struct Day {
        std::string name;  // "Mon"
        int done{0};
        int asked{0};   // 0: a day of rest
        int partly{0};  // of those done: not to the end
        bool is_today{false};
        bool is_ahead{false};
        bool operator==(const Day&) const = default;
    };
    std::vector<Day> days{};  // seven a row
    std::string summary{};
    bool operator==(const DaysBlock&) const = default;
};

// Shares of one whole, each with its word: the onset mix.
struct SharesBlock {
    struct Share {
        std::string name;  // "easy"
        int count{0};
        bool operator==(const Share&) const = default;
    };
    std::string title{};
    std::vector<Share> shares{};
    bool operator==(const SharesBlock&) const = default;
};

// 0 .. 10, one of them chosen by left and right; counts as a row.
struct ScaleBlock {
    std::string label{};        // "How much effort did your voice take?"
    std::string low{}, high{};  // words at the two ends
    std::optional<int> value{};
    bool operator==(const ScaleBlock&) const = default;
};

struct TableBlock {
    std::vector<std::string> head{};
    std::vector<std::vector<std::string>> rows{};
    bool operator==(const TableBlock&) const = default;
};

using PageBlock = std::variant<TextBlock, RowBlock, ColumnHeadBlock, ChartBlock, DaysBlock,
                               SharesBlock, ScaleBlock, TableBlock>;

enum class WithKey { alone, control };

struct PageKeyHint {
    std::string key{};   // "Enter", "P"
    std::string does{};  // "begin"
    char letter{
        0};  // what pressing it sends: '\n' proceed, 27 back, ' ' space, or a capital letter
    WithKey with{WithKey::alone};
    bool operator==(const PageKeyHint&) const = default;
};

struct PageView {
    std::string title{};
    std::string lead{};  // one sentence below it
    std::vector<PageBlock> blocks{};
    std::optional<int> focused{};     // row; absent when there is none
    std::string notice{};             // at the foot, above the keys
    std::vector<PageKeyHint> keys{};  // the first is the one thing to do
    bool operator==(const PageView&) const = default;
};

// ---- what a person does on it ---------------------------------------------------------------

struct PressKey {
    enum class Key { proceed, back, space, up, down, left, right, erase, letter } key{Key::proceed};
    char letter{0};  // A .. Z, 0 .. 9 with Key::letter; into a text row only with control held
    WithKey with{WithKey::alone};
    bool operator==(const PressKey&) const = default;
};
struct TypeText {
    std::string text{};  // UTF-8, into the text row in focus
    bool operator==(const TypeText&) const = default;
};
struct PickPageRow {  // clicked: focus goes there, and a button or link is done
    int row{0};
    bool operator==(const PickPageRow&) const = default;
};
struct FocusRow {  // the focus goes there, and nothing is done
    int row{0};
    bool operator==(const FocusRow&) const = default;
};
struct StepPageRow {  // its value clicked: -1 or +1; a scale: the number clicked
    int row{0};
    int by{0};
    std::optional<int> to{};
    bool operator==(const StepPageRow&) const = default;
};
struct DropFile {  // dropped onto the window
    std::filesystem::path path{};
    bool operator==(const DropFile&) const = default;
};
using PageEvent = std::variant<PressKey, TypeText, PickPageRow, FocusRow, StepPageRow, DropFile>;

// ---- what a page wishes of the window ------------------------------------------------------

class Page;

// On top of this one.
struct OpenPage {
    std::unique_ptr<Page> page;
};
// In its place.
struct ReplacePage {
    std::unique_ptr<Page> page;
};
struct ClosePage {};
struct Ask {
    Request request{};
};
// Go through the plan's practice; what was done before an interruption is in `already`.
struct StartPractice {
    Client client{};
    Plan plan{};
    PracticeKind kind{PracticeKind::at_home};
    BeforePractice before{};
    std::optional<Practice> already{};
};
// Three quiet /s/, then three /z/ when asked for, timed in session.
struct StartBaseline {
    Client client{};
    enum class Sounds { s, s_and_z } sounds{Sounds::s};
};
struct RecordModel {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};
};
// Through the loudspeaker, once.
struct HearModel {
    ModelVoice model{};
};
struct OpenTolerance {};
struct OpenPracticeRoom {};  // one drill, freely chosen
struct OpenSoundCheck {};
struct OpenCautions {};
// To the clipboard.
struct CopyText {
    std::string text{};
};
struct LeaveProgram {};
using PageWish = std::variant<OpenPage, ReplacePage, ClosePage, Ask, StartPractice, StartBaseline,
                              RecordModel, HearModel, OpenTolerance, OpenPracticeRoom,
                              OpenSoundCheck, OpenCautions, CopyText, LeaveProgram>;

class Page {
public:
    virtual ~Page() = default;
    virtual PageView view() const = 0;
    virtual void act(const PageEvent& event) = 0;
    virtual void hear(const Answer& answer) = 0;  // every answer goes to every page of the stack
    virtual void recorded(const ModelVoice&) {}   // what RecordModel asked for
    virtual void opened() {}                      // shown for the first time, or uncovered again

    // Since the last call, oldest first.
    std::vector<PageWish> take_wishes() { return std::exchange(wishes_, {}); }

protected:
    void wish(PageWish w) { wishes_.push_back(std::move(w)); }

private:
    std::vector<PageWish> wishes_{};
};

}  // namespace holdwell
