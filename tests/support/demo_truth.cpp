// The truth of a demonstration as JSON, written by hand: this library knows no others.

#include <array>
#include <cstdio>
#include <initializer_list>

#include "tests/support/demo_sessions.h"

namespace holdwell::test {

namespace {

std::string rounded(double value, int decimals)
{
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
    return text.data();
}

std::string in_seconds(Seconds s) { return rounded(s.count(), 3); }

std::string together(std::initializer_list<std::string_view> parts)
{
    std::string text;
    for (const std::string_view part : parts) text += part;
    return text;
}

std::string line(std::string_view key, std::string_view value)
{
    return together({",\n  \"", key, "\": ", value});
}

std::string quoted(std::string_view text) { return together({"\"", text, "\""}); }

std::string line_if(std::string_view key, std::optional<Hertz> f)
{
    return f ? line(key, rounded(f->value, 2)) : std::string{};
}

template <typename Items, typename AsText>
std::string list_of(const Items& items, AsText as_text)
{
    std::string text{"["};
    for (const auto& item : items) {
        if (text.size() > 1) text += ", ";
        text += as_text(item);
    }
    return text + "]";
}

std::string pause_text(const TruePause& p)
{
    return together(
        {"{\"at_s\": ", in_seconds(p.at), ", \"length_s\": ", in_seconds(p.length), "}"});
}

std::string break_text(const TrueBreak& b)
{
    return together(
        {"{\"at_s\": ", in_seconds(b.at), ", \"size_semitones\": ", rounded(b.size.value, 2), "}"});
}

}  // namespace

std::string truth_as_json(const DemoSession& session)
{
    const DemoTruth& t = session.truth;
    std::string text = "{\n  \"client\": \"K-07 (invented)\"";
    text += line("exercise", quoted(t.exercise)) + line("made", quoted(session.made));
    text += line("onset_s", in_seconds(t.onset)) + line("offset_s", in_seconds(t.offset));
    if (t.f0_median) text += line("target_hz", rounded(kDemoTarget.value, 2));
    text += line_if("f0_median_hz", t.f0_median);
    if (t.deviation) text += line("deviation_cents", rounded(t.deviation->value, 1));
    text += line_if("f0_first_hz", t.f0_first) + line_if("f0_last_hz", t.f0_last);
    if (t.air_lead > 0s) text += line("air_lead_s", in_seconds(t.air_lead));
    text += line("interruptions", list_of(t.interruptions, pause_text));
    text += line("breaks", list_of(t.breaks, break_text));
    return text + "\n}\n";
}

}  // namespace holdwell::test
