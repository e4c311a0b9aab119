// Beginnings of a voice, found by our timer and by aubio's onset object, on the gallery of holds.
//
//   onsets               20 files a category
//   onsets --files 50    so many
//
// A beginning counts as found within 100 ms of the true one (20 dB below full strength); anything
// else that is reported is false. aubio: window 1024, hop 256, its usual threshold and silence, and
// its own correction of the delay. It looks for any beginning, not for that of a voice: breaths and
// ends are beginnings to it as well.

#include <aubio/aubio.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <memory>
#include <string_view>
#include <vector>

#include "dsp/listener.h"
#include "tests/support/hold_gallery.h"
#include "tests/support/pitch_score.h"

namespace holdwell::bench {

namespace {

constexpr Seconds kBridge{300ms};
constexpr Seconds kFound{100ms};

using Beginnings = std::vector<Seconds>;

struct Closed {
    void operator()(aubio_onset_t* o) const { del_aubio_onset(o); }
    void operator()(fvec_t* v) const { del_fvec(v); }
};

Beginnings by_aubio(const test::ScriptedTake& take, const char* method)
{
    constexpr uint_t kHop = 256;
    const std::unique_ptr<fvec_t, Closed> in{new_fvec(kHop)}, out{new_fvec(1)};
    const std::unique_ptr<aubio_onset_t, Closed> onset{
        new_aubio_onset(method, 1024, kHop, static_cast<uint_t>(take.rate.hz))};
    Beginnings found;
    for (std::size_t i = 0; i + kHop <= take.samples.size(); i += kHop) {
        std::copy_n(take.samples.begin() + static_cast<std::ptrdiff_t>(i), kHop, in->data);
        aubio_onset_do(onset.get(), in.get(), out.get());
        if (out->data[0] > 0.0f)
            found.emplace_back(static_cast<double>(aubio_onset_get_last_s(onset.get())));
    }
    return found;
}

Beginnings by_us(const test::ScriptedTake& take)
{
    Listener listener{{.sample_rate = take.rate}, {.sought = Sought::hold}};
    listener.push(take.samples);
    listener.finish();
    Beginnings found;
    for (const Hold& h : listener.take_finished().holds)
        found.push_back(time_of(h.onset, take.rate));
    return found;
}

struct Score {
    int truths{0};
    int found{0};
    int invented{0};
    std::vector<double> off_ms;
    double taken_s{0.0};
    double heard_s{0.0};
};

void add(Score& score, const test::ScriptedTake& take, Beginnings found)
{
    for (const test::TrueHold& hold : test::true_holds_of(take, kBridge)) {
        ++score.truths;
        const auto nearest = std::ranges::min_element(
            found, {}, [&](Seconds s) { return std::abs((s - hold.onset).count()); });
        if (nearest == found.end() || std::abs((*nearest - hold.onset).count()) > kFound.count())
            continue;
        ++score.found;
        score.off_ms.push_back(1000.0 * std::abs((*nearest - hold.onset).count()));
        found.erase(nearest);
    }
    score.invented += static_cast<int>(found.size());
    score.heard_s += take.length().count();
}

template <typename Method>
Score score_of(const test::HoldCategory& category, int files, Method method)
{
    Score score;
    for (int k = 0; k < files; ++k) {
        const test::ScriptedTake take = test::make_take(category, k);
        const std::clock_t begin = std::clock();
        Beginnings found = method(take);
        score.taken_s += static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
        add(score, take, std::move(found));
    }
    return score;
}

void print(const Score& s)
{
    const double median = s.off_ms.empty() ? 0.0 : test::quantile(s.off_ms, 0.5);
    std::printf("  %3d/%-3d %4.0f ms %4d", s.found, s.truths, median, s.invented);
}

}  // namespace

}  // namespace holdwell::bench

int main(int argc, char** argv)
{
    using namespace holdwell;
    using namespace holdwell::bench;
    int files = 20;
    for (int k = 1; k + 1 < argc; ++k) {
        if (std::string_view{argv[k]} == "--files") files = std::max(1, std::atoi(argv[k + 1]));
    }
    std::printf("found / true, median error, invented\n%-20s  %-22s  %-22s  %-22s\n", "", "ours",
                "aubio, hfc", "aubio, energy");
    double ours_s = 0.0, hfc_s = 0.0, heard_s = 0.0;
    for (const test::HoldCategory& category : test::hold_categories()) {
        const Score ours = score_of(category, files, by_us);
        const Score hfc =
            score_of(category, files, [](const auto& t) { return by_aubio(t, "hfc"); });
        const Score energy =
            score_of(category, files, [](const auto& t) { return by_aubio(t, "energy"); });
        std::printf("%-20s", category.name.c_str());
        print(ours);
        print(hfc);
        print(energy);
        std::printf("\n");
        ours_s += ours.taken_s;
        hfc_s += hfc.taken_s;
        heard_s += ours.heard_s;
    }
    std::printf("\na second of sound: the whole ear %.2f ms, aubio's onset object (hfc) %.2f ms\n",
                1000.0 * ours_s / heard_s, 1000.0 * hfc_s / heard_s);
}
