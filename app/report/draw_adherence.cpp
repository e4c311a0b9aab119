#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "app/report/draw_report.h"

namespace holdwell {

namespace {

constexpr PaperSetting kLabel{.style = PaperText::label, .ink = Ink::quiet};
constexpr PaperSetting kSummary{.wrap = PaperWrap::paragraph};
constexpr double kWeekHead = 18.0;  // number, first day
constexpr double kWeekFoot = 10.0;  // done of asked
constexpr double kDay = 8.0;
constexpr double kLegend = 12.0;
constexpr double kSquare = 6.0;
constexpr double kBarField = 46.0;
constexpr std::size_t kMostSlots = 4;

constexpr std::array kSlots{ReportSlot::complete, ReportSlot::partly, ReportSlot::by_hand,
                            ReportSlot::not_today, ReportSlot::not_done};

const char* name_of(ReportSlot slot)
{
    switch (slot) {
    case ReportSlot::complete:
        return "complete";
    case ReportSlot::partly:
        return "in part";
    case ReportSlot::by_hand:
        return "entered by hand";
    case ReportSlot::not_today:
        return "put off (questions beforehand)";
    case ReportSlot::not_done:
        return "not done";
    }
    return "";
}

void draw_slot(ReportPaper& paper, ReportSlot slot, PaperPoint at)
{
    const PaperBox box{at.x, at.y, kSquare, kSquare};
    const PaperPoint middle{at.x + kSquare / 2.0, at.y + kSquare / 2.0};
    switch (slot) {
    case ReportSlot::complete:
        paper.fill(box, Ink::accent);
        break;
    case ReportSlot::partly:
        paper.wedge(box, Ink::accent);
        break;
    case ReportSlot::by_hand:
        paper.disc(middle, 1.5, Ink::black);
        break;
    case ReportSlot::not_today:
        paper.line({at.x + 1.2, middle.y}, {box.right() - 1.2, middle.y}, {.width = 0.9});
        break;
    case ReportSlot::not_done:
        break;
    }
    const bool quiet = slot == ReportSlot::not_done;
    paper.frame(box, {.ink = quiet ? Ink::pale : Ink::quiet, .width = 0.5});
}

void draw_day(ReportPaper& paper, const std::vector<ReportSlot>& slots, const PaperBox& box)
{
    if (slots.empty()) {
        paper.disc({box.x + kSquare / 2.0, box.y + kSquare / 2.0}, 0.6, Ink::pale);
        return;
    }
    const std::size_t shown = std::min(slots.size(), kMostSlots);
    for (std::size_t i = 0; i < shown; ++i)
        draw_slot(paper, slots[i], {box.x + static_cast<double>(i) * (kSquare + 1.0), box.y});
}

void draw_legend(ReportPaper& paper, const PaperBox& box)
{
    double x = box.x;
    for (const ReportSlot slot : kSlots) {
        draw_slot(paper, slot, {x, box.y + 1.8});
        const double width = paper.width_of(name_of(slot), kLabel);
        paper.text(name_of(slot), kLabel, {x + 9.0, box.y, width + 2.0, 9.0});
        x += width + 20.0;
    }
}

void draw_week(ReportPaper& paper, const ReportWeek& week, const PaperBox& box)
{
    paper.text(week.name, {.style = PaperText::label}, box);
    paper.text(week.from, kLabel, {box.x, box.y + 8.0, box.width, 9.0});
    double y = box.y + kWeekHead;
    for (const auto& day : week.days) {
        draw_day(paper, day, {box.x, y, box.width, kDay});
        y += kDay;
    }
    paper.text(fmt::format("{}/{}", week.done, week.asked), {.style = PaperText::label},
               {box.x, y, box.width, 9.0});
}

void draw_squares(ReportPaper& paper, const ReportAdherence& adherence, const PaperBox& box)
{
    constexpr double kNames = 26.0;
    paper.text("week", kLabel, {box.x, box.y, kNames, 9.0});
    paper.text("from", kLabel, {box.x, box.y + 8.0, kNames, 9.0});
    for (int day = 0; day < 7; day += 6) {
        paper.text(fmt::format("day {}", day + 1), kLabel,
                   {box.x, box.y + kWeekHead + kDay * day - 1.0, kNames, 9.0});
    }
    const double room = box.width - kNames;
    const double each = std::min(room / static_cast<double>(adherence.weeks.size()), 62.0);
    for (std::size_t i = 0; i < adherence.weeks.size(); ++i) {
        const double x = box.x + kNames + each * static_cast<double>(i);
        draw_week(paper, adherence.weeks[i], {x, box.y, each - 1.0, 0.0});
    }
}

void draw_bars(ReportPaper& paper, const ReportAdherence& adherence, const PaperBox& box)
{
    int most = 1;
    for (const ReportWeek& week : adherence.weeks) most = std::max({most, week.done, week.asked});
    const double each = box.width / static_cast<double>(adherence.weeks.size());
    const double bottom = box.y + 10.0 + kBarField;
    const auto height = [&](int count) { return kBarField * count / most; };
    for (std::size_t i = 0; i < adherence.weeks.size(); ++i) {
        const ReportWeek& week = adherence.weeks[i];
        const double x = box.x + each * static_cast<double>(i);
        const double width = std::min(0.7 * each, 16.0);
        paper.fill({x, bottom - height(week.done), width, height(week.done)}, Ink::accent);
        paper.frame({x, bottom - height(week.asked), width, height(week.asked)},
                    {.ink = Ink::quiet, .width = 0.6});
        if (i % 4 == 0) {
            paper.text(week.name, kLabel, {x, bottom + 1.0, 50.0, 9.0});
            paper.text(week.from, kLabel, {x, bottom + 9.0, 50.0, 9.0});
        }
    }
    paper.text(fmt::format("from week; highest {}; filled: done, outline: asked", most), kLabel,
               {box.x, box.y, box.width, 9.0});
}

}  // namespace

double adherence_height(ReportPaper& paper, const ReportAdherence& adherence, double width)
{
    const double summary = paper.height_of(adherence.summary, kSummary, width) + 3.0;
    if (adherence.weeks.empty()) return summary;
    if (adherence.form == ReportAdherence::Form::bars) return summary + 10.0 + kBarField + 20.0;
    return summary + kWeekHead + 7.0 * kDay + kWeekFoot + kLegend;
}

void draw_adherence(ReportPaper& paper, const ReportAdherence& adherence, const PaperBox& box)
{
    const double summary = paper.text(adherence.summary, kSummary, box) + 3.0;
    if (adherence.weeks.empty()) return;
    const PaperBox picture{box.x, box.y + summary, box.width, box.height - summary};
    if (adherence.form == ReportAdherence::Form::bars) {
        draw_bars(paper, adherence, picture);
        return;
    }
    draw_squares(paper, adherence, picture);
    draw_legend(paper, {box.x, box.bottom() - kLegend + 2.0, box.width, 0.0});
}

}  // namespace holdwell
