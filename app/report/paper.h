#pragma once
// The one place that touches Cairo and Pango: ink on the pages of a PDF. Lengths are in points from
// the top left corner of a page.

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/base/result.h"
#include "app/practice/identity.h"
#include "app/report/report_pages.h"

namespace holdwell {

struct PaperPoint {
    double x{0.0};
    double y{0.0};
};
struct PaperBox {
    double x{0.0};
    double y{0.0};
    double width{0.0};
    double height{0.0};
    double right() const { return x + width; }
    double bottom() const { return y + height; }
};

// Dark enough on white to be read when copied in black and white; shapes tell things apart.
enum class Ink { black, accent, quiet, pale, white };
enum class LineForm { solid, dashed, dotted };
struct PaperLine {
    Ink ink{Ink::black};
    double width{0.6};
    LineForm form{LineForm::solid};
};

enum class PaperText { title, heading, body, strong, label, small_print };
enum class PaperAlign { left, centre, right };
// One line is cut with an ellipsis where it is too long; a paragraph is broken into lines.
enum class PaperWrap { one_line, paragraph };
struct PaperSetting {
    PaperText style{PaperText::body};
    PaperAlign align{PaperAlign::left};
    PaperWrap wrap{PaperWrap::one_line};
    Ink ink{Ink::black};
};

struct PaperFacts {  // the file's own
    std::string title{};
    std::optional<Date> made{};
};

class ReportPaper {
public:
    ReportPaper(PaperSize size, const PaperFacts& facts);
    ~ReportPaper();
    ReportPaper(const ReportPaper&) = delete;
    ReportPaper& operator=(const ReportPaper&) = delete;

    PaperSize size() const;
    double height_of(const std::string& text, const PaperSetting& setting, double width);
    double width_of(const std::string& text, const PaperSetting& setting);
    // From the box's upper edge; its height is not looked at. Gives the height used.
    double text(const std::string& text, const PaperSetting& setting, const PaperBox& box);

    void line(PaperPoint from, PaperPoint to, const PaperLine& line);
    void path(const std::vector<PaperPoint>& points, const PaperLine& line);
    void fill(const PaperBox& box, Ink ink);
    void frame(const PaperBox& box, const PaperLine& line);
    void hatch(const PaperBox& box, const PaperLine& line);  // slanting lines within it
    void disc(PaperPoint centre, double radius, Ink ink);
    void ring(PaperPoint centre, double radius, const PaperLine& line);
    void cross(PaperPoint centre, double radius, const PaperLine& line);
    void wedge(const PaperBox& box, Ink ink);  // its lower left half

    void next_page();
    // Nothing can be drawn afterwards.
    Result<std::string> bytes();

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
