// What has to be done in a moment: a frame of the window, and a model's voice at the loudspeaker's
// rate.
//
//   moments
//
// The least of many runs, by the clock: the computer has other things to do.

#define DOCTEST_CONFIG_IMPLEMENT  // asserts of the test code that is used here
#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <numbers>

#include "app/audio/model_samples.h"
#include "app/ui/view_model.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/scripted.h"

namespace holdwell::bench {

namespace {

double least_ms(int runs, const std::function<void()>& action)
{
    double least = INFINITY;
    for (int i = 0; i < runs; ++i) {
        const auto begin = std::chrono::steady_clock::now();
        action();
        const std::chrono::duration<double, std::milli> took =
            std::chrono::steady_clock::now() - begin;
        least = std::min(least, took.count());
    }
    return least;
}

// Our own code, with what the view model makes of it; without the graphics driver.
void print_frame(Seconds held)
{
    test::Headless headless{1280, 800, 100};
    Preferences preferences;
    preferences.cautions = Cautions::read;
    ViewModel vm{{}, preferences};
    scripted::Voice voice;
    voice.length = held;
    for (const Update& u : scripted::beginning()) vm.apply(u);
    for (const Update& u : scripted::sounding(voice, {}, held)) vm.apply(u);
    const double ms = least_ms(200, [&] { headless.draw(vm.view()); });
    std::printf("a frame in a hold of %.0f s, %d corners: %.2f ms (goal 2 ms)\n", held.count(),
                ImGui::GetDrawData()->TotalVtxCount, ms);
}

double model_ms(SampleRate from, SampleRate to)
{
    SoundClip clip{.samples = {}, .rate = from};
    for (int i = 0; i < static_cast<int>(15.0 * from.hz); ++i) {
        const double phase = 2.0 * std::numbers::pi * 349.23 * i / from.hz;
        clip.samples.push_back(static_cast<float>(0.1 * std::sin(phase)));
    }
    return least_ms(5, [&] {
        if (model_samples(clip, to).empty()) std::abort();
    });
}

void print_all()
{
    print_frame(10s);
    print_frame(60s);
    std::printf("a model of 15 s, 44.1 to 48 kHz: %.0f ms (a loudspeaker is allowed 400 ms)\n",
                model_ms({44'100.0}, {48'000.0}));
}

}  // namespace

}  // namespace holdwell::bench

int main()
{
    doctest::Context asserts;
    asserts.setAsDefaultForAssertsOutOfTestCases();
    asserts.setAssertHandler([](const doctest::AssertData& failed) {
        if (failed.m_failed) std::abort();
    });
    holdwell::bench::print_all();
}
