#include <doctest/doctest.h>

#include <cmath>

#include "app/ui/ink_line.h"
#include "app/ui/present.h"

using namespace holdwell;

TEST_CASE("a line keeps its shape however long the hold")
{
    InkLine line;
    for (int i = 0; i < 6000; ++i) {
        line.push(Seconds{i / 100.0}, Cents{50.0 * std::sin(i / 500.0)});
    }
    CHECK(line.slots().size() <= InkLine::kMostPoints);
    const double slot = line.slot_length().count();
    CHECK(slot * static_cast<double>(line.slots().size()) == doctest::Approx(60.0).epsilon(0.01));
    double worst = 0.0;
    for (std::size_t i = 0; i < line.slots().size(); ++i) {
        REQUIRE(line.slots()[i]);
        const double at = (static_cast<double>(i) + 0.5) * slot;
        worst = std::max(worst, std::abs(line.slots()[i]->value - 50.0 * std::sin(at / 5.0)));
    }
    CHECK(worst < 1.0);  // cents; a pixel of the ribbon is about one
}

TEST_CASE("a pause in the voice is a gap in the ink, also in a long hold")
{
    InkLine line;
    for (int i = 0; i < 3000; ++i) {
        if (i < 1000 || i >= 1020) line.push(Seconds{i / 100.0}, Cents{0.0});
    }
    const auto strokes = strokes_of(line.slots(), {.slot = line.slot_length()});
    REQUIRE(strokes.size() == 2);
    CHECK(strokes[0].back().at_s == doctest::Approx(10.0).epsilon(0.01));
    CHECK(strokes[1].front().at_s == doctest::Approx(10.2).epsilon(0.01));
}

TEST_CASE("one missing frame is no gap")
{
    InkLine line;
    for (int i = 0; i < 100; ++i) {
        if (i != 50) line.push(Seconds{i / 100.0}, Cents{0.0});
    }
    CHECK(strokes_of(line.slots(), {}).size() == 1);
}

TEST_CASE("what is no number or before the onset leaves no ink")
{
    InkLine line;
    line.push(Seconds{-0.1}, Cents{0.0});
    line.push(Seconds{0.1}, Cents{std::nan("")});
    CHECK(line.slots().empty());
}

TEST_CASE("ink is drawn in bands, folded by the octave said, and never beyond reach")
{
    const std::vector<std::optional<Cents>> slots(30, Cents{1250.0});
    const auto folded = strokes_of(slots, {.band = Cents{100.0}, .octaves_off = 1});
    CHECK(folded.front().front().height == doctest::Approx(0.5));
    const auto far = strokes_of(slots, {.band = Cents{100.0}});
    CHECK(far.front().front().height == doctest::Approx(RibbonView::kReach));
}
