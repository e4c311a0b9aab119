#include "app/report/report_pages.h"

#include <algorithm>
#include <array>
#include <functional>

#include <fmt/format.h>

#include "app/report/draw_report.h"
#include "app/report/paper.h"

namespace holdwell {

namespace {

constexpr double kMargin = 40.0;
constexpr double kFooter = 22.0;  // above the lower margin
constexpr double kBetween = 9.0;  // two sections
constexpr std::size_t kMostPages = 2;

using Sections = std::vector<ReportSection>;

// What is left out when two pages do not hold all of it, least missed first.
enum class Fullness { all, without_table, small_pictures, smallest };
constexpr std::array kFullnesses{Fullness::all, Fullness::without_table, Fullness::small_pictures,
                                 Fullness::smallest};

double picture_height(Fullness fullness)
{
    switch (fullness) {
    case Fullness::all:
    case Fullness::without_table:
        return 106.0;
    case Fullness::small_pictures:
        return 84.0;
    case Fullness::smallest:
        return 62.0;
    }
    return 62.0;
}

void add_pictures(const ReportView& view, Fullness fullness, Sections& sections)
{
    const double height = picture_height(fullness);
    sections.push_back(adherence_section(view));
    for (ReportSection& row : hold_sections(view, height)) sections.push_back(std::move(row));
    if (fullness == Fullness::all) sections.push_back(table_section(view.hold_table, {}));
    sections.push_back(glide_section(view, height));
    sections.push_back(onsets_and_ratings_section(view, height));
    sections.push_back(baseline_section(view));
}

Sections sections_of(const ReportView& view, Fullness fullness)
{
    Sections sections{head_section(view)};
    if (view.nothing.empty()) {
        add_pictures(view, fullness, sections);
    } else {
        sections.push_back(sentence_section(view.nothing));
    }
    sections.push_back(goal_section(view));
    sections.push_back(chart_note_section(view));
    sections.push_back(small_print_section(view));
    std::erase_if(sections, [](const ReportSection& section) { return !section.draw; });
    return sections;
}

// Which sections stand on which page.
std::vector<std::vector<std::size_t>> paged(ReportPaper& paper, const Sections& sections)
{
    const double width = paper.size().width - 2.0 * kMargin;
    const double room = paper.size().height - 2.0 * kMargin - kFooter;
    std::vector<std::vector<std::size_t>> pages(1);
    double used = 0.0;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const double height = sections[i].height(paper, width);
        if (!pages.back().empty() && used + height > room) {
            pages.emplace_back();
            used = 0.0;
        }
        pages.back().push_back(i);
        used += height + kBetween;
    }
    return pages;
}

struct FootText {
    std::string who;
    std::string made_on;
    std::size_t page{1};
    std::size_t pages{1};
};

void draw_foot(ReportPaper& paper, const FootText& foot)
{
    const PaperBox box{kMargin, paper.size().height - kMargin - 8.0,
                       paper.size().width - 2.0 * kMargin, 10.0};
    paper.line({box.x, box.y - 4.0}, {box.right(), box.y - 4.0}, {.ink = Ink::pale});
    const PaperBox left{box.x, box.y, 0.7 * box.width, box.height};
    paper.text(fmt::format("{} · made with Holdwell, {}", foot.who, foot.made_on),
               {.style = PaperText::label, .ink = Ink::quiet}, left);
    const PaperBox right{left.right(), box.y, 0.3 * box.width, box.height};
    paper.text(fmt::format("page {} of {}", foot.page, foot.pages),
               {.style = PaperText::label, .align = PaperAlign::right, .ink = Ink::quiet}, right);
}

void draw_page(ReportPaper& paper, const Sections& sections, const std::vector<std::size_t>& page)
{
    PaperBox box{kMargin, kMargin, paper.size().width - 2.0 * kMargin, 0.0};
    for (const std::size_t i : page) {
        box.height = sections[i].height(paper, box.width);
        sections[i].draw(paper, box);
        box.y = box.bottom() + kBetween;
    }
}

Sections fitting_sections(ReportPaper& paper, const ReportView& view)
{
    Sections sections;
    for (const Fullness fullness : kFullnesses) {
        sections = sections_of(view, fullness);
        if (paged(paper, sections).size() <= kMostPages) break;
    }
    return sections;
}

}  // namespace

Result<std::string> report_pdf(const ReportView& view, PaperSize size)
{
    ReportPaper paper{size, {fmt::format("{}: {}", view.title, view.who), view.made}};
    const Sections sections = fitting_sections(paper, view);
    const auto pages = paged(paper, sections);
    FootText foot{view.who, view.made_on, 1, pages.size()};
    for (const auto& page : pages) {
        draw_page(paper, sections, page);
        draw_foot(paper, foot);
        paper.next_page();
        ++foot.page;
    }
    return paper.bytes();
}

}  // namespace holdwell
