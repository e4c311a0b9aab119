// How often the window draws, in the time of the sound that is heard: whatever the machine does.

#include "app/ui/redraw.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr Seconds kHop{0.010};
constexpr Seconds kLate{0.001};  // by which a sleep is longer than asked for

// The window's own loop (window.cpp) over a view model, with an update every hop and time that
// passes only where it sleeps or draws; when each frame was drawn.
class Drawn {
public:
    explicit Drawn(Seconds takes) : takes_{takes} {}

    void hear(const std::vector<Update>& updates)
    {
        const Seconds begin = now_;
        std::size_t heard = 0;
        while (heard < updates.size()) {
            while (heard < updates.size() && arrival(begin, heard) <= now_) {
                vm_.apply(updates[heard++]);
            }
            step(arrival(begin, heard));
        }
    }
    void wait(Seconds length)
    {
        const Seconds end = now_ + length;
        while (now_ < end) step(end);
    }
    void press(Action action)
    {
        redraw_.on_change();
        vm_.apply(Event{action});
    }
    int frames_between(Seconds begin, Seconds end) const
    {
        const auto within = [&](Seconds at) { return at >= begin && at < end; };
        return static_cast<int>(std::ranges::count_if(frames_, within));
    }
    // The shortest time between two frames.
    Seconds closest() const
    {
        Seconds shortest{INFINITY};
        for (std::size_t i = 1; i < frames_.size(); ++i) {
            shortest = std::min(shortest, frames_[i] - frames_[i - 1]);
        }
        return shortest;
    }
    Seconds now() const { return now_; }

private:
    static Seconds arrival(Seconds begin, std::size_t hop)
    {
        return begin + kHop * static_cast<double>(hop);
    }
    void step(Seconds next_wake)
    {
        const WindowView view = vm_.view();
        const auto state = view == drawn_ ? Redraw::View::as_drawn : Redraw::View::changed;
        if (redraw_.is_due(now_, state)) {
            frames_.push_back(now_);
            redraw_.on_drawn(now_);
            drawn_ = view;
            now_ += takes_;
            return;
        }
        now_ = std::min(std::max(now_, next_wake), now_ + redraw_.until_due(now_, state)) + kLate;
    }

    Seconds takes_;
    Seconds now_{};
    ViewModel vm_ = practising();
    WindowView drawn_;
    Redraw redraw_;
    std::vector<Seconds> frames_;
};

}  // namespace

TEST_CASE("while a voice sounds it is drawn 30 times in each second of it, and never 60 times")
{
    // A frame costs nothing, 10 ms as on this window's software renderer, or nearly all there is.
    for (const Seconds takes : {Seconds{0.0}, Seconds{0.010}, Seconds{0.030}}) {
        CAPTURE(takes.count());
        Drawn drawn{takes};
        drawn.wait(2s);
        const Seconds begin = drawn.now();
        drawn.hear(scripted::sounding(voice(10.0), {}, 10s));
        // One at either end may lie just outside.
        const Seconds from = begin + 500ms;
        CHECK(drawn.frames_between(from, from + 9s) >= 9 * 30 - 1);
        for (int second = 0; second < 9; ++second) {
            const Seconds then = from + Seconds{1.0 * second};
            CHECK(drawn.frames_between(then, then + 1s) >= 29);
        }
        CHECK(drawn.closest().count() > 1.0 / 60.0 - 1e-9);
    }
}

TEST_CASE("where nothing changes nothing is drawn, and what is done is drawn at once")
{
    Drawn drawn{Seconds{0.005}};
    drawn.hear(scripted::sounding(voice(2.0), {}, 2s));
    drawn.wait(1s);
    const Seconds idle = drawn.now();
    drawn.wait(60s);
    CHECK(drawn.frames_between(idle, drawn.now()) == 0);
    const Seconds pressed = drawn.now();
    drawn.press(Action::open_choices);
    drawn.wait(1s);
    CHECK(drawn.frames_between(pressed, pressed + Seconds{0.001}) == 1);
    CHECK(drawn.frames_between(pressed, drawn.now()) == 2);
}

TEST_CASE("however often a key is pressed, it is drawn at most 60 times a second")
{
    Drawn drawn{Seconds{0.0}};
    drawn.wait(1s);
    const Seconds begin = drawn.now();
    for (int i = 0; i < 500; ++i) {
        drawn.press(i % 2 == 0 ? Action::larger_text : Action::smaller_text);
        drawn.wait(Seconds{0.002});
    }
    CHECK(drawn.frames_between(begin, begin + 1s) > 30);
    CHECK(drawn.closest().count() > 1.0 / 60.0 - 1e-9);
}
