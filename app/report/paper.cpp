#include "app/report/paper.h"

#include <array>
#include <cmath>
#include <numbers>

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

namespace holdwell {

namespace {

struct Shade3 {
    double r, g, b;
};

Shade3 shade_of(Ink ink)
{
    switch (ink) {
    case Ink::black:
        return {0.10, 0.11, 0.12};
    case Ink::accent:
        return {0.059, 0.369, 0.420};  // #0F5E6B
    case Ink::quiet:
        return {0.36, 0.37, 0.38};
    case Ink::pale:
        return {0.82, 0.83, 0.83};
    case Ink::white:
        return {1.0, 1.0, 1.0};
    }
    return {0.0, 0.0, 0.0};
}

const char* font_of(PaperText style)
{
    switch (style) {
    case PaperText::title:
        return "Inter,DejaVu Sans Semi-Bold 16";
    case PaperText::heading:
        return "Inter,DejaVu Sans Semi-Bold 9.5";
    case PaperText::body:
        return "Inter,DejaVu Sans 8.4";
    case PaperText::strong:
        return "Inter,DejaVu Sans Semi-Bold 8.2";
    case PaperText::label:
        return "Inter,DejaVu Sans 6.9";
    case PaperText::small_print:
        return "Inter,DejaVu Sans 6.8";
    }
    return "";
}

PangoAlignment alignment_of(PaperAlign align)
{
    switch (align) {
    case PaperAlign::left:
        return PANGO_ALIGN_LEFT;
    case PaperAlign::centre:
        return PANGO_ALIGN_CENTER;
    case PaperAlign::right:
        return PANGO_ALIGN_RIGHT;
    }
    return PANGO_ALIGN_LEFT;
}

cairo_status_t append(void* closure, const unsigned char* bytes, unsigned int length)
{
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(bytes), length);
    return CAIRO_STATUS_SUCCESS;
}

struct Unref {
    void operator()(void* object) const { g_object_unref(object); }
};
template <typename Object>
using Owned = std::unique_ptr<Object, Unref>;

}  // namespace

struct ReportPaper::State {
    PaperSize size;
    std::string bytes;
    cairo_surface_t* surface{nullptr};
    cairo_t* ink{nullptr};
    // A font map of its own: nothing that another part of the program does changes a report.
    Owned<PangoFontMap> fonts;
    Owned<PangoContext> context;

    ~State()
    {
        if (ink) cairo_destroy(ink);
        if (surface) cairo_surface_destroy(surface);
    }

    void set(Ink colour)
    {
        const Shade3 shade = shade_of(colour);
        cairo_set_source_rgb(ink, shade.r, shade.g, shade.b);
    }

    void stroke(const PaperLine& line)
    {
        constexpr std::array kDash{3.0, 2.0};
        constexpr std::array kDots{0.8, 1.6};
        set(line.ink);
        cairo_set_line_width(ink, line.width);
        if (line.form == LineForm::dashed) cairo_set_dash(ink, kDash.data(), 2, 0.0);
        if (line.form == LineForm::dotted) cairo_set_dash(ink, kDots.data(), 2, 0.0);
        cairo_stroke(ink);
        cairo_set_dash(ink, nullptr, 0, 0.0);
    }

    // width < 0: as wide as it comes.
    Owned<PangoLayout> laid_out(const std::string& text, const PaperSetting& setting, double width)
    {
        Owned<PangoLayout> layout{pango_layout_new(context.get())};
        PangoFontDescription* font = pango_font_description_from_string(font_of(setting.style));
        pango_layout_set_font_description(layout.get(), font);
        pango_font_description_free(font);
        pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
        if (width < 0.0) return layout;
        pango_layout_set_width(layout.get(), pango_units_from_double(width));
        pango_layout_set_alignment(layout.get(), alignment_of(setting.align));
        if (setting.wrap == PaperWrap::paragraph) {
            pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
            pango_layout_set_line_spacing(layout.get(), 1.1F);
        } else {
            pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
            pango_layout_set_height(layout.get(), -1);
            pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
        }
        return layout;
    }
};

namespace {

PaperSize extent_of(PangoLayout* layout)
{
    int width = 0;
    int height = 0;
    pango_layout_get_size(layout, &width, &height);
    return {pango_units_to_double(width), pango_units_to_double(height)};
}

PangoContext* context_on(PangoFontMap* fonts)
{
    PangoContext* context = pango_font_map_create_context(fonts);
    pango_cairo_context_set_resolution(context, 72.0);  // a point is a unit
    pango_context_set_round_glyph_positions(context, FALSE);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    return context;
}

constexpr Date kNoDate{std::chrono::year{2000}, std::chrono::January, std::chrono::day{1}};

std::string file_date(Date day)
{
    return fmt::format("{:04}-{:02}-{:02}T00:00:00Z", static_cast<int>(day.year()),
                       static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

}  // namespace

ReportPaper::ReportPaper(PaperSize size, const PaperFacts& facts) : state_{new State}
{
    State& s = *state_;
    s.size = size;
    s.surface = cairo_pdf_surface_create_for_stream(append, &s.bytes, size.width, size.height);
    cairo_pdf_surface_set_metadata(s.surface, CAIRO_PDF_METADATA_TITLE, facts.title.c_str());
    cairo_pdf_surface_set_metadata(s.surface, CAIRO_PDF_METADATA_CREATOR, "Holdwell");
    // The day alone, and that from the report: the same report is the same file. Left unset it
    // would be today, and tell where the report does not.
    cairo_pdf_surface_set_metadata(s.surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   file_date(facts.made.value_or(kNoDate)).c_str());
    s.ink = cairo_create(s.surface);
    s.fonts.reset(pango_cairo_font_map_new());
    s.context.reset(context_on(s.fonts.get()));
}

ReportPaper::~ReportPaper() = default;

PaperSize ReportPaper::size() const { return state_->size; }

double ReportPaper::height_of(const std::string& text, const PaperSetting& setting, double width)
{
    return extent_of(state_->laid_out(text, setting, width).get()).height;
}

double ReportPaper::width_of(const std::string& text, const PaperSetting& setting)
{
    return extent_of(state_->laid_out(text, setting, -1.0).get()).width;
}

double ReportPaper::text(const std::string& text, const PaperSetting& setting, const PaperBox& box)
{
    const Owned<PangoLayout> layout = state_->laid_out(text, setting, box.width);
    state_->set(setting.ink);
    cairo_move_to(state_->ink, box.x, box.y);
    pango_cairo_show_layout(state_->ink, layout.get());
    return extent_of(layout.get()).height;
}

void ReportPaper::line(PaperPoint from, PaperPoint to, const PaperLine& line)
{
    path({from, to}, line);
}

void ReportPaper::path(const std::vector<PaperPoint>& points, const PaperLine& line)
{
    cairo_new_path(state_->ink);
    for (const PaperPoint& point : points) cairo_line_to(state_->ink, point.x, point.y);
    cairo_set_line_join(state_->ink, CAIRO_LINE_JOIN_ROUND);
    state_->stroke(line);
}

void ReportPaper::fill(const PaperBox& box, Ink ink)
{
    state_->set(ink);
    cairo_rectangle(state_->ink, box.x, box.y, box.width, box.height);
    cairo_fill(state_->ink);
}

void ReportPaper::frame(const PaperBox& box, const PaperLine& line)
{
    cairo_rectangle(state_->ink, box.x, box.y, box.width, box.height);
    state_->stroke(line);
}

void ReportPaper::hatch(const PaperBox& box, const PaperLine& line)
{
    constexpr double kApart = 2.2;
    cairo_save(state_->ink);
    cairo_rectangle(state_->ink, box.x, box.y, box.width, box.height);
    cairo_clip(state_->ink);
    for (double x = box.x - box.height; x < box.right(); x += kApart) {
        cairo_move_to(state_->ink, x, box.bottom());
        cairo_line_to(state_->ink, x + box.height, box.y);
    }
    state_->stroke(line);
    cairo_restore(state_->ink);
}

void ReportPaper::disc(PaperPoint centre, double radius, Ink ink)
{
    state_->set(ink);
    cairo_new_path(state_->ink);
    cairo_arc(state_->ink, centre.x, centre.y, radius, 0.0, 2.0 * std::numbers::pi);
    cairo_fill(state_->ink);
}

void ReportPaper::ring(PaperPoint centre, double radius, const PaperLine& line)
{
    cairo_new_path(state_->ink);
    cairo_arc(state_->ink, centre.x, centre.y, radius, 0.0, 2.0 * std::numbers::pi);
    state_->stroke(line);
}

void ReportPaper::cross(PaperPoint centre, double radius, const PaperLine& line)
{
    const double r = radius;
    this->line({centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}, line);
    this->line({centre.x - r, centre.y + r}, {centre.x + r, centre.y - r}, line);
}

void ReportPaper::wedge(const PaperBox& box, Ink ink)
{
    state_->set(ink);
    cairo_move_to(state_->ink, box.x, box.y);
    cairo_line_to(state_->ink, box.x, box.bottom());
    cairo_line_to(state_->ink, box.right(), box.bottom());
    cairo_fill(state_->ink);
}

void ReportPaper::next_page() { cairo_show_page(state_->ink); }

Result<std::string> ReportPaper::bytes()
{
    cairo_surface_finish(state_->surface);
    const cairo_status_t status = cairo_status(state_->ink);
    if (status != CAIRO_STATUS_SUCCESS)
        return Error{
            fmt::format("The report could not be drawn ({}).", cairo_status_to_string(status))};
    return state_->bytes;
}

}  // namespace holdwell
