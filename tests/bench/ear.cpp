// What hearing costs: seconds of one core for a second of sound, detector by detector and all
// together, and the memory of an hour.
//
//   ear                  both tables
//   ear --minutes 5      the second over so many minutes instead of an hour
//
// The times are of the processor (of one core, in a program of one thread), the best of five runs
// over the same sound: whatever else the computer does is left out as far as it can be.

#include <aubio/aubio.h>
#include <malloc.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "app/engine/engine.h"
#include "dsp/f0_estimator.h"
#include "dsp/frame_analyzer.h"
#include "dsp/fry.h"
#include "dsp/level.h"
#include "dsp/listener.h"
#include "dsp/onset.h"
#include "dsp/other_sounds.h"
#include "dsp/processing.h"
#include "dsp/quality.h"
#include "dsp/sibilant.h"
#include "tests/support/signal_script.h"

namespace holdwell::bench {

namespace {

constexpr AnalysisConfig kConfig{};
constexpr int kRuns = 5;

// A practice in small: a breath, a hold, a pause, an /s/, a glide.
std::vector<float> practice_sounds()
{
    using namespace holdwell::test;
    return SignalScript{kConfig.sample_rate, 1}
        .silence(1s)
        .air(NoiseKind::breath, 600ms, Dbfs{-50.0})
        .silence(300ms)
        .voice({.f0 = drift({349.2}, {8.0}, 2), .jitter_percent = 0.4, .hnr = Decibels{20.0}}, 12s)
        .silence(2s)
        .air(NoiseKind::sibilant, 4s, Dbfs{-35.0})
        .silence(2s)
        .voice({.f0 = glide({150.0}, {600.0}, 4s), .jitter_percent = 0.4}, 4s)
        .silence(2s)
        .with_noise(NoiseKind::room, Dbfs{-65.0})
        .build()
        .samples;
}

struct Heard {
    std::vector<float> samples;
    std::vector<FrameReading> readings;
    std::vector<FricationReading> frications;
    std::size_t hop;
    std::span<const float> at(std::size_t i) const { return {samples.data() + i * hop, hop}; }
    double seconds() const { return 0.01 * static_cast<double>(readings.size()); }
};

Heard hear_all()
{
    Heard h{practice_sounds(), {}, {}, static_cast<std::size_t>(hop_length(kConfig).value)};
    FrameAnalyzer analyzer{kConfig};
    for (std::size_t i = 0; (i + 1) * h.hop <= h.samples.size(); ++i) {
        h.readings.push_back(analyzer.push(h.at(i)));
        h.frications.push_back(analyzer.frication());
    }
    return h;
}

// Milliseconds for a second of sound.
template <typename MakePush>
double cost(const Heard& heard, MakePush make_push)
{
    double best = 1e9;
    for (int run = 0; run < kRuns; ++run) {
        auto push = make_push();
        const std::clock_t begin = std::clock();
        for (std::size_t i = 0; i < heard.readings.size(); ++i) push(i);
        best = std::min(best, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
    }
    return 1000.0 * best / heard.seconds();
}

void print_cost(const char* name, double ms)
{
    std::printf("%-34s %8.3f ms  %6.3f %%\n", name, ms, ms / 10.0);
}

// A detector that is handed hops with what was read in them.
template <typename Detector>
double cost_of(const Heard& heard)
{
    return cost(heard, [&heard] {
        return [&heard, d = Detector{kConfig}](std::size_t i) mutable {
            d.push(heard.at(i), heard.readings[i]);
        };
    });
}

void print_costs(const Heard& heard)
{
    std::printf("A second of sound at 48 kHz costs, on one core:\n\n");
    const auto of_hop = [&heard]<typename Stage>(Stage) {
        return cost(heard, [&heard] {
            return [&heard, s = typename Stage::type{kConfig}](std::size_t i) mutable {
                (void)s.push(heard.at(i));
            };
        });
    };
    print_cost("level", of_hop(std::type_identity<VoiceBandLevel>{}));
    print_cost("frication", of_hop(std::type_identity<FricationMeter>{}));
    print_cost("f0", cost(heard, [&heard] {
                   return [&heard, f0 = F0Estimator{kConfig}](std::size_t i) mutable {
                       const FrameReading& r = heard.readings[i];
                       (void)f0.push(heard.at(i), r.level - r.noise_floor);
                   };
               }));
    print_cost("fry", cost(heard, [&heard] {
                   return [&heard, fry = FryDetector{kConfig}](std::size_t i) mutable {
                       (void)fry.push(heard.at(i), heard.readings[i].phonation);
                   };
               }));
    print_cost("/s/ and /z/", cost(heard, [&heard] {
                   return [&heard, timer = SibilantTimer{kConfig}](std::size_t i) mutable {
                       const bool voiced = is_voice(heard.readings[i].phonation);
                       timer.push(heard.frications[i], voiced ? Pitch::present : Pitch::absent);
                   };
               }));
    print_cost("onset", cost_of<OnsetMeter>(heard));
    print_cost("quality", cost_of<QualityMeter>(heard));
    print_cost("other sounds", cost_of<OtherSounds>(heard));
    print_cost("processing of the microphone", cost(heard, [&heard] {
                   return [&heard, watch = ProcessingWatch{}](std::size_t i) mutable {
                       watch.push(heard.readings[i]);
                   };
               }));
    const auto whole = cost(heard, [&heard] {
        return
            [&heard, all = Listener{kConfig, {}}](std::size_t i) mutable { all.push(heard.at(i)); };
    });
    print_cost("the whole ear", whole);
    std::printf("%-34s %s\n\n", "goal: 15 ms, 1.5 %", whole < 15.0 ? "met" : "not met");
}

// ---- aubio, on the same sound in the same run --------------------------------------------------

constexpr uint_t kAubioHop = 480;  // as ours

struct Closed {
    void operator()(aubio_onset_t* o) const { del_aubio_onset(o); }
    void operator()(aubio_pitch_t* p) const { del_aubio_pitch(p); }
    void operator()(fvec_t* v) const { del_fvec(v); }
};

// `hear` is given one hop and where to put the answer.
template <typename Object, typename Hear>
double cost_of_aubio(const Heard& heard, Object* object, Hear hear)
{
    const std::unique_ptr<Object, Closed> held{object};
    const std::unique_ptr<fvec_t, Closed> in{new_fvec(kAubioHop)}, out{new_fvec(1)};
    return cost(heard, [&] {
        return [&](std::size_t i) {
            std::ranges::copy(heard.at(i), in->data);
            hear(held.get(), in.get(), out.get());
        };
    });
}

void print_costs_of_aubio(const Heard& heard)
{
    const auto rate = static_cast<uint_t>(kConfig.sample_rate.hz);
    std::printf("aubio's objects, on the same sound:\n\n");
    for (const char* method : {"hfc", "energy"}) {
        print_cost(
            (std::string{"onset, "} + method).c_str(),
            cost_of_aubio(heard, new_aubio_onset(method, 1024, kAubioHop, rate), aubio_onset_do));
    }
    for (const char* method : {"yinfft", "yinfast", "yin", "fcomb", "mcomb"}) {
        print_cost(
            (std::string{"pitch, "} + method).c_str(),
            cost_of_aubio(heard, new_aubio_pitch(method, 2048, kAubioHop, rate), aubio_pitch_do));
    }
    std::printf("\n");
}

double resident_mb()
{
    std::ifstream statm{"/proc/self/statm"};
    long all = 0, resident = 0;
    statm >> all >> resident;
    return static_cast<double>(resident * sysconf(_SC_PAGESIZE)) / 1e6;
}

double heap_kb() { return static_cast<double>(mallinfo2().uordblks) / 1024.0; }

// As in a practice: every trial is taken, and the next armed.
void listen_for(Engine& engine, const Heard& heard, std::int64_t& position, double minutes)
{
    AudioBlock block;
    std::size_t i = 0;
    for (double heard_s = 0.0; heard_s < 60.0 * minutes; heard_s += 0.01) {
        const auto hop = heard.at(i);
        block.begin = SampleIndex{position};
        block.count = hop.size();
        std::copy(hop.begin(), hop.end(), block.samples.begin());
        engine.push(block);
        position += static_cast<std::int64_t>(hop.size());
        for (const Update& u : engine.take_updates()) {
            const auto* stage = std::get_if<StageChanged>(&u);
            if (stage && stage->stage == Stage::finished) engine.apply(ArmTrial{});
        }
        i = (i + 1) % heard.readings.size();
    }
}

void print_memory(const Heard& heard, double minutes)
{
    std::printf("Memory while an engine listens to a practice without end:\n\n");
    std::printf("%10s %14s %14s\n", "minutes", "resident, MB", "heap, kB");
    Engine engine{kConfig};
    engine.apply(BeginDrill{});
    std::int64_t position = 0;
    double heard_minutes = 0.0;
    for (const double until : {0.01, 0.1, 0.25, 0.5, 1.0}) {
        listen_for(engine, heard, position, until * minutes - heard_minutes);
        heard_minutes = until * minutes;
        std::printf("%10.1f %14.1f %14.1f\n", heard_minutes, resident_mb(), heap_kb());
    }
}

}  // namespace

}  // namespace holdwell::bench

int main(int argc, char** argv)
{
    using namespace holdwell::bench;
    double minutes = 60.0;
    for (int k = 1; k + 1 < argc; ++k) {
        if (std::string_view{argv[k]} == "--minutes")
            minutes = std::max(1.0, std::atof(argv[k + 1]));
    }
    const auto heard = hear_all();
    print_costs(heard);
    print_costs_of_aubio(heard);
    print_memory(heard, minutes);
}
