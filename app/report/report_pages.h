#pragma once
// A report as a PDF of one or two pages, drawn with Cairo and Pango: real text, black on white,
// nothing told by colour alone.
//
// The same view and paper give the same bytes on the same computer: no clock is read, and the
// file's own date is the day on which the report was made.

#include <string>

#include "app/base/result.h"
#include "app/report/report_view.h"

namespace holdwell {

// In points, 1/72 inch.
struct PaperSize {
    double width{595.28};  // A4, ISO 216
    double height{841.89};
};
inline constexpr PaperSize kA4{};
inline constexpr PaperSize kLetter{612.0, 792.0};  // ANSI/ASME Y14.1, size A

// The bytes of the PDF.
Result<std::string> report_pdf(const ReportView& view, PaperSize paper);

}  // namespace holdwell
