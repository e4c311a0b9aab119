#include "app/engine/worker.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <vector>

#include "app/engine/sound_cutter.h"
#include "tests/app/engine/scripted_sound.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};

SourceStatus live(int stream, SampleRate rate = kRate)
{
    return {.state = CaptureState::live,
            .device = "a microphone",
            .message = {},
            .sample_rate = rate,
            .stream = stream};
}

std::vector<float> sung(Seconds length)
{
    return SignalScript{kRate, 3}
        .silence(1s)
        .voice({.f0 = steady(frequency_of(kF4))}, length)
        .with_noise(NoiseKind::white, Dbfs{-70.0})
        .build()
        .samples;
}

// A worker on a scripted microphone, with all that it said so far.
struct Bench {
    std::shared_ptr<ScriptedSound> sound = std::make_shared<ScriptedSound>();
    Worker worker{ScriptedSound::ports(sound)};
    std::vector<Update> said;

    void run(int rounds = 1)
    {
        for (int i = 0; i < rounds; ++i) worker.step();
        for (Update& update : worker.take_updates()) said.push_back(std::move(update));
    }
    void run_until_heard()
    {
        while (sound->blocks_left() > 0) run();
    }
    template <typename Kind>
    std::vector<Kind> all() const
    {
        std::vector<Kind> found;
        for (const Update& update : said) {
            if (const auto* kind = std::get_if<Kind>(&update)) found.push_back(*kind);
        }
        return found;
    }
};

}  // namespace

TEST_CASE("the microphone last chosen is opened, and what becomes of it is said once")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    CHECK(bench.sound->opened() == std::vector<std::string>{"the usual one"});
    bench.run(3);
    bench.sound->say(live(1));
    bench.run(3);
    const auto changes = bench.all<CaptureChanged>();
    REQUIRE(changes.size() == 2);
    CHECK(changes[0].state == CaptureState::opening);
    CHECK(changes[1].state == CaptureState::live);
    CHECK(changes[1].device == "a microphone");
    CHECK(changes[1].sample_rate == kRate);
}

TEST_CASE("every 10 ms heard become one reading, at the device's own rate")
{
    for (const SampleRate rate : {SampleRate{48'000.0}, SampleRate{44'100.0}}) {
        CAPTURE(rate.hz);
        Bench bench;
        bench.worker.apply(ReopenMicrophone{});
        bench.worker.apply(BeginDrill{});
        bench.sound->say(live(1, rate));
        bench.run();
        const std::vector<float> noise = SignalScript{rate, 1}
                                             .silence(2s)
                                             .with_noise(NoiseKind::white, Dbfs{-60.0})
                                             .build()
                                             .samples;
        bench.sound->hear(noise, {});
        bench.run_until_heard();
        bench.run();
        CHECK(bench.all<FrameHeard>().size() == 200);
    }
}

TEST_CASE("a microphone that is lost ends the hold, and the drill goes on with the next stream")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.worker.apply(BeginDrill{});
    bench.sound->say(live(1));
    bench.run();
    const std::vector<float> take = sung(2s);
    bench.sound->hear(take, {});
    bench.run_until_heard();
    CHECK(bench.all<TrialFinished>().empty());

    SourceStatus lost = live(1);
    lost.state = CaptureState::lost;
    lost.message = "It has gone.";
    bench.sound->say(lost);
    bench.run();
    REQUIRE(bench.all<TrialFinished>().size() == 1);
    const Hold kept = bench.all<TrialFinished>().front().hold;
    CHECK(kept.ended_by == HoldEnd::stream_ended);
    CHECK(std::abs(duration_of(kept.offset - kept.onset, kRate).count() - 2.0) < 0.1);
    CHECK(bench.all<CaptureChanged>().back().message == "It has gone.");

    bench.sound->say(live(2));
    bench.run();
    bench.sound->hear(take, {});
    bench.run_until_heard();
    const auto frames = bench.all<FrameHeard>();
    REQUIRE(frames.back().under_way);
    CHECK(frames.back().under_way->onset.value < 48'000 + 4'800);  // counted from 0 again
}

TEST_CASE("a pause outlasts the loss of the microphone")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.worker.apply(BeginDrill{});
    bench.sound->say(live(1));
    bench.run();
    bench.worker.apply(PauseListening{});
    bench.run();
    bench.sound->say(live(2));
    bench.run();
    REQUIRE_FALSE(bench.all<StageChanged>().empty());
    CHECK(bench.all<StageChanged>().back().stage == Stage::paused);
}

TEST_CASE("lost samples are said, and mark the hold they fall in without shortening it")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.worker.apply(BeginDrill{});
    bench.sound->say(live(1));
    bench.run();
    const std::vector<float> take = sung(3s);
    const std::span<const float> all{take};
    bench.sound->hear(all.first(96'000), {});
    bench.sound->hear(all.subspan(100'800), {100'800});
    bench.run_until_heard();
    bench.worker.close();
    bench.run();
    const auto lost = bench.all<SamplesLost>();
    REQUIRE(lost.size() == 1);
    CHECK(lost.front().count.value == 4'800);
    REQUIRE(bench.all<TrialFinished>().size() == 1);
    const Hold hold = bench.all<TrialFinished>().front().hold;
    CHECK(hold.has_gap);
    CHECK(std::abs(duration_of(hold.offset - hold.onset, kRate).count() - 3.0) < 0.1);
}

TEST_CASE("a sung model comes with its sound, and is refused when the microphone lost some of it")
{
    const auto model_of = [](SampleCount lost) {
        auto sound = std::make_shared<ScriptedSound>();
        SoundPorts ports = ScriptedSound::ports(sound);
        ports.encode = [](const SoundClip& clip) -> Result<std::vector<std::byte>> {
            return std::vector<std::byte>(clip.samples.size());
        };
        Bench bench{.sound = sound, .worker = Worker{std::move(ports)}, .said = {}};
        bench.worker.apply(ReopenMicrophone{});
        bench.worker.apply(CaptureModel{.kind = DrillKind::warm_up_hold, .note = kF4});
        bench.sound->say(live(1));
        bench.run();
        std::vector<float> take = sung(3s);
        take.resize(take.size() + 3 * 48'000, 0.0f);
        const std::span<const float> all{take};
        bench.sound->hear(all.first(96'000), {});
        const auto rest = static_cast<std::size_t>(96'000 + lost.value);
        bench.sound->hear(all.subspan(rest), {static_cast<std::int64_t>(rest)});
        bench.run_until_heard();
        bench.run();
        const auto models = bench.all<ModelCaptured>();
        REQUIRE(models.size() == 1);
        return models.front();
    };
    const ModelCaptured whole = model_of({});
    CHECK(whole.trouble.empty());
    const SampleCount length{static_cast<std::int64_t>(whole.flac.size())};
    CHECK(std::abs(duration_of(length, kRate).count() - 3.4) < 0.1);  // 0.4 s of room with it
    const ModelCaptured holed = model_of({480});
    CHECK(holed.trouble == kModelNotWhole);
    CHECK(holed.flac.empty());
}

TEST_CASE("a note asked for while the microphone opens is played once it is open, and only once")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.worker.apply(BeginDrill{});
    bench.worker.apply(HearNote{});
    bench.run(3);
    CHECK(bench.sound->tones().empty());
    bench.sound->say(live(1));
    bench.run(3);
    REQUIRE(bench.sound->tones().size() == 1);
    CHECK(bench.sound->tones().front().f0 == frequency_of(kF4));
}

TEST_CASE("without a microphone the note can be heard all the same")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.sound->say({.state = CaptureState::no_device, .device = {}, .message = "None."});
    bench.run();
    bench.worker.apply(BeginDrill{});
    bench.worker.apply(HearNote{});
    bench.run();
    CHECK(bench.sound->tones().size() == 1);
}

TEST_CASE("trouble with the loudspeaker is said without hiding how the microphone is")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    bench.sound->say(live(1));
    bench.run();
    bench.sound->tell({.microphones = {}, .trouble = "No loudspeaker."});
    bench.run();
    const CaptureChanged last = bench.all<CaptureChanged>().back();
    CHECK(last.message == "No loudspeaker.");
    CHECK(last.state == CaptureState::live);
}

TEST_CASE("another microphone is remembered, opened and shown as the one chosen")
{
    Bench bench;
    bench.sound->tell({.microphones = std::vector<std::string>{"one", "two"}, .trouble = {}});
    bench.run();
    bench.worker.apply(ChooseMicrophone{"two"});
    bench.run();
    CHECK(bench.sound->remembered() == std::vector<std::string>{"two"});
    CHECK(bench.sound->opened() == std::vector<std::string>{"two"});
    const auto lists = bench.all<MicrophonesListed>();
    REQUIRE(lists.size() == 2);
    CHECK(lists[0].chosen == "the usual one");
    CHECK(lists[1].chosen == "two");
    CHECK(lists[1].names == std::vector<std::string>{"one", "two"});
}

TEST_CASE("a recording that cannot be played is said in the reader's own sentence")
{
    Bench bench;
    bench.worker.apply(PlayRecording{"missing.wav"});
    bench.run();
    REQUIRE(bench.all<CaptureChanged>().size() == 1);
    CHECK(bench.all<CaptureChanged>().front().state == CaptureState::recording_ended);
    CHECK(bench.all<CaptureChanged>().front().message == "missing.wav: there is no such file");
}

TEST_CASE("an /s/ that one microphone cannot hear is taken up on the next that can")
{
    Bench bench;
    bench.worker.apply(ReopenMicrophone{});
    Drill drill;
    drill.kind = DrillKind::s_hold;
    bench.worker.apply(BeginDrill{drill});
    bench.sound->say(live(1, SampleRate{16'000.0}));
    bench.run(2);
    REQUIRE(bench.all<DrillRefused>().size() == 1);
    bench.worker.apply(ArmTrial{});
    bench.run();
    CHECK(bench.all<DrillRefused>().size() == 2);
    CHECK(bench.all<StageChanged>().back().stage == Stage::paused);
    bench.sound->say(live(2));
    bench.run(2);
    CHECK(bench.all<DrillRefused>().size() == 2);
    CHECK(bench.all<StageChanged>().back().stage == Stage::ready);
}

TEST_CASE("what is known of the client's loudness outlives a lost stream, not another microphone")
{
    const auto known_after = [](const SourceStatus& next) {
        Bench bench;
        bench.worker.apply(ReopenMicrophone{});
        bench.sound->say(live(1));
        bench.run();
        bench.worker.apply(UseComfortableLevel{Dbfs{-30.0}});
        bench.worker.apply(BeginDrill{});
        bench.sound->say(next);
        bench.run(2);
        std::vector<float> take = sung(2s);
        take.resize(take.size() + 48'000, 0.0f);
        bench.sound->hear(take, {});
        bench.run_until_heard();
        bench.run();
        const auto finished = bench.all<TrialFinished>();
        REQUIRE(finished.size() == 1);
        return finished[0].over_comfortable.has_value();
    };
    CHECK(known_after(live(2)));
    SourceStatus other = live(2);
    other.device = "another microphone";
    CHECK_FALSE(known_after(other));
}
