#include "app/pages/page_words.h"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <charconv>
#include <cmath>

#include "app/practice/day_text.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

constexpr std::array kWeekdays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};

std::string trimmed(std::string_view text)
{
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return std::string{text.substr(first, text.find_last_not_of(" \t") - first + 1)};
}

// Without a unit at its end.
std::string bare_number(std::string_view text)
{
    std::string number = trimmed(text);
    while (!number.empty() && std::isalpha(static_cast<unsigned char>(number.back())) != 0)
        number.pop_back();
    number = trimmed(number);
    for (char& c : number) c = c == ',' ? '.' : c;
    return number;
}

}  // namespace

std::string capitalised(std::string text)
{
    if (!text.empty())
        text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

std::string uncapitalised(std::string text)
{
    if (!text.empty())
        text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
    return text;
}

std::string day_in_words(Date date) { return day_text(date, {}); }

std::string weekday_said(Date date)
{
    return kWeekdays[std::chrono::weekday{std::chrono::sys_days{date}}.c_encoding()];
}

std::string short_day(Date date)
{
    return fmt::format("{} {}", weekday_said(date), short_day_text(date, {}));
}

std::string days_ago_in_words(Date date, Date today)
{
    constexpr int kStillCounted = 60;
    const auto days = days_between(date, today).count();
    if (days == 0) return "today";
    if (days == 1) return "yesterday";
    if (days < 0 || days >= kStillCounted) return day_in_words(date);
    return fmt::format("{} days ago", days);
}

std::string time_in_words(ClockTime time)
{
    const auto minutes = time.since_midnight.count();
    return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::string band_said(Cents band) { return fmt::format("± {:.0f} cents", band.value); }

std::string counted(int n, std::string_view one, std::string_view many)
{
    if (n == 1) return fmt::format("1 {}", one);
    return many.empty() ? fmt::format("{} {}s", n, one) : fmt::format("{} {}", n, many);
}

std::string times_said(int n)
{
    if (n == 1) return "once";
    if (n == 2) return "twice";
    return fmt::format("{} times", n);
}

std::string percent_said(double share) { return fmt::format("{:.0f} %", share * 100.0); }

std::string size_said(std::int64_t bytes)
{
    constexpr double kKilo = 1000.0;
    const auto size = static_cast<double>(bytes);
    if (size < kKilo * kKilo) return fmt::format("{:.0f} kB", std::ceil(size / kKilo));
    if (size < kKilo * kKilo * kKilo) return fmt::format("{:.0f} MB", size / (kKilo * kKilo));
    return fmt::format("{:.1f} GB", size / (kKilo * kKilo * kKilo));
}

std::string usual_folder_said(Lasting lasting)
{
    return lasting == Lasting::kept ? "your documents folder"
                                    : "a folder of this example, which goes when the window closes";
}

std::string gone_when_closed_said(Lasting lasting)
{
    if (lasting == Lasting::kept) return {};
    return "This is an example: the file goes when the window closes. Copy it elsewhere before, if "
           "you wish to keep it.";
}

std::string joined(const std::vector<std::string>& parts)
{
    std::string all;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (i > 0) all += i + 1 == parts.size() ? " and " : ", ";
        all += parts[i];
    }
    return all;
}

std::string shortened(const std::string& text, std::size_t letters)
{
    std::size_t seen = 0;
    std::size_t end_of_last_but_one = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool begins_letter = (static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U;
        if (!begins_letter) continue;
        if (seen + 1 == letters) end_of_last_but_one = i;
        if (seen == letters) return text.substr(0, end_of_last_but_one) + "…";
        ++seen;
    }
    return text;
}

std::string shortened_inside(const std::string& text, std::size_t letters)
{
    std::vector<std::size_t> begins;
    for (std::size_t i = 0; i < text.size(); ++i)
        if ((static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U) begins.push_back(i);
    if (begins.size() <= letters || letters < 3) return shortened(text, letters);
    const std::size_t at_end = (letters - 1) / 2;
    const std::size_t at_front = letters - 1 - at_end;
    return text.substr(0, begins[at_front]) + "…" + text.substr(begins[begins.size() - at_end]);
}

std::string drill_on_note_said(DrillKind kind, std::optional<Note> note)
{
    if (!note) return name_of(kind);
    return fmt::format("{} on {}", name_of(kind), name_of(*note, Spelling::display));
}

std::string completion_said(Completion completion)
{
    switch (completion) {
    case Completion::under_way:
        return "not ended";
    case Completion::complete:
        return "complete";
    case Completion::partial:
        return "stopped early";
    case Completion::not_today:
        return "not today";
    case Completion::stopped_for_discomfort:
        return "stopped for discomfort";
    }
    return {};
}

std::string kind_said(PracticeKind kind)
{
    switch (kind) {
    case PracticeKind::at_home:
        return "at home";
    case PracticeKind::in_session:
        return "in session";
    case PracticeKind::entered_by_hand:
        return "entered by hand";
    }
    return {};
}

std::string onset_said(OnsetClass onset)
{
    switch (onset) {
    case OnsetClass::easy:
        return "easy";
    case OnsetClass::hard:
        return "hard";
    case OnsetClass::breathy:
        return "breathy";
    case OnsetClass::unsure:
        return "unsure";
    }
    return {};
}

std::optional<double> number_typed(std::string_view text)
{
    const std::string number = bare_number(text);
    double value = 0.0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    if (number.empty() || error != std::errc{} || end != number.data() + number.size()) return {};
    if (!std::isfinite(value) || value < 0.0) return {};
    return value;
}

std::optional<Date> date_typed(std::string_view text)
{
    const std::string day = trimmed(text);
    constexpr std::size_t kLength = 10;  // 2026-03-28
    if (day.size() != kLength || day[4] != '-' || day[7] != '-') return {};
    const auto part = [&](std::size_t first, std::size_t count) -> int {
        int value = -1;
        const char* end = day.data() + first + count;
        const auto [stop, error] = std::from_chars(day.data() + first, end, value);
        return error == std::errc{} && stop == end ? value : -1;
    };
    const int year = part(0, 4), month = part(5, 2), of_month = part(8, 2);
    if (year < 0 || month < 0 || of_month < 0) return {};
    const Date date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                    std::chrono::day{static_cast<unsigned>(of_month)}};
    if (!date.ok()) return {};
    return date;
}

std::string typed_form_of(Date date)
{
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

}  // namespace holdwell
