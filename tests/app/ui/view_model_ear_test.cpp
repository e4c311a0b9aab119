// What the window says of the microphone and the voice's loudness, and what the therapist teaches
// it. The client and her voice are made up (scripted.h).

#include <doctest/doctest.h>

#include <string>
#include <variant>
#include <vector>

#include "dsp/sibilant.h"
#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

bool has(const std::string& text, const std::string& part)
{
    return text.find(part) != std::string::npos;
}

DetailsView numbers(const ViewModel& vm) { return std::get<DetailsView>(vm.view().screen); }
ChoicesView rows(const ViewModel& vm) { return std::get<ChoicesView>(vm.view().screen); }

// The value beside a name, anywhere on a screen of numbers; empty when it is not there.
std::string figure(const DetailsView& view, const std::string& name)
{
    for (const FigureGroup& group : view.groups) {
        for (const Figure& f : group.figures) {
            if (f.name == name) return f.value;
        }
    }
    return {};
}

TrialFinished finished(const OnsetFeatures& features)
{
    TrialFinished trial{.drill = {}, .hold = scripted::hold_of(voice(5.0), {})};
    trial.hold.start.features = features;
    return trial;
}

OnsetFeatures rising_in(double ms)
{
    OnsetFeatures f;
    f.rise = Seconds{ms / 1000.0};
    f.snr = Decibels{40.0};
    return f;
}

void hear_steady(ViewModel& vm, Dbfs level, Seconds length)
{
    for (int i = 0; i < static_cast<int>(length.count() * 100.0); ++i) {
        FrameReading r;
        r.hop_begin = SampleIndex{i * scripted::kHop};
        r.level = r.hop_level = level;
        r.noise_floor = Dbfs{-70.0};
        vm.apply(FrameHeard{r, {}});
    }
}

SoundCheckFinished check(double room, double comfortable)
{
    return {.noise_floor = {room},
            .voice_level = {comfortable},
            .snr = {comfortable - room},
            .clipped_samples = 0,
            .room = RoomVerdict::quiet};
}

SoundCheckView sound_check(const ViewModel& vm)
{
    return std::get<SoundCheckView>(vm.view().screen);
}

}  // namespace

TEST_CASE("a drill that cannot be heard here says why, until another is begun")
{
    ViewModel vm = practising();
    vm.apply(DrillRefused{{}, "An /s/ cannot be timed with this microphone."});
    vm.apply(StageChanged{Stage::paused});
    CHECK(practice(vm).line == "An /s/ cannot be timed with this microphone.");
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).line == "Breathe in, then sing F4 softly.");
}

TEST_CASE("an /s/ that faded by itself is told with what to do about it")
{
    ViewModel vm = practising();
    Sibilant s;
    s.offset = SampleIndex{48'000 * 4};
    s.fading_suspected = true;
    vm.apply(SibilantFinished{{}, s});
    vm.apply(StageChanged{Stage::finished});
    CHECK(practice(vm).line.starts_with("4 seconds."));
    CHECK(practice(vm).notice == kFadingSentence);
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).notice.empty());
    s.fading_suspected = false;
    vm.apply(SibilantFinished{{}, s});
    vm.apply(StageChanged{Stage::finished});
    CHECK(practice(vm).notice.empty());
}

TEST_CASE("a voice much louder than comfortable is asked to be softer, kindly")
{
    ViewModel vm = practising();
    std::vector<Update> sounding = scripted::sounding(voice(5.0), {}, Seconds{3.0});
    std::get<FrameHeard>(sounding.back()).loudness = Loudness::much_louder;
    tell(vm, sounding);
    CHECK(practice(vm).line == "Softer is enough. Let the air do the work.");
    CHECK(has(practice(vm).meter.words, "louder than needed"));
    TrialFinished trial = finished(rising_in(60.0));
    trial.loudness = Loudness::much_louder;
    trial.over_comfortable = Decibels{11.2};
    vm.apply(trial);
    vm.apply(StageChanged{Stage::finished});
    CHECK(has(practice(vm).second, "softer is enough"));
    vm.apply(Event{Action::open_details});
    CHECK(figure(numbers(vm), "beside the comfortable voice") == "+11.2 dB");
}

TEST_CASE("what another sound spoilt is told, and is never the longest")
{
    ViewModel vm = practising();
    tell(vm, scripted::trial(voice(5.0), {}));
    std::vector<Update> trial = scripted::trial(voice(20.0), {});
    Hold& hold = std::get<TrialFinished>(trial[trial.size() - 2]).hold;
    hold.doubt = Doubt::several_sounds;
    tell(vm, trial);
    CHECK(practice(vm).line.starts_with("20 seconds. Something else sounded along"));
    CHECK_FALSE(has(practice(vm).line, "Longest"));
    CHECK(practice(vm).facts.at(1) == "longest yet 5.0");
    vm.apply(Event{Action::open_details});
    CHECK(has(figure(numbers(vm), "in doubt"), "Something else"));
}

TEST_CASE("a note that no throat could hold so evenly is said to be that, and is no best")
{
    ViewModel vm = practising();
    tell(vm, scripted::trial(voice(5.0), {}));
    CHECK_FALSE(has(practice(vm).second, "machine"));
    std::vector<Update> trial = scripted::trial(voice(9.0), {});
    std::get<TrialFinished>(trial[trial.size() - 2]).hold.like_a_machine = true;
    tell(vm, trial);
    CHECK(has(practice(vm).second, "as even as a machine"));
    CHECK(practice(vm).facts.at(1) == "longest yet 5.0");
}

TEST_CASE("processing of the microphone is told on the practice and the sound check")
{
    ViewModel vm = practising();
    vm.apply(ProcessingChanged{MicrophoneProcessing::gain_control});
    CHECK(has(practice(vm).notice, "Switch automatic gain off"));
    vm.apply(Event{Action::open_sound_check});
    vm.apply(check(-60.0, -30.0));
    CHECK(has(sound_check(vm).findings.back(), "automatic gain"));
    CHECK(has(sound_check(vm).advice, "noise suppression"));
    vm.apply(ProcessingChanged{std::nullopt});
    vm.apply(Event{Action::back});
    CHECK(practice(vm).notice.empty());
}

TEST_CASE("a room without any sound at all is told to be cut off")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_sound_check});
    vm.apply(check(-120.0, -30.0));
    CHECK(has(sound_check(vm).findings.back(), "cut off"));
    vm.apply(check(-70.0, -30.0));
    CHECK_FALSE(has(sound_check(vm).findings.back(), "cut off"));
}

TEST_CASE("sound without a note is told after two seconds, a breath is not")
{
    ViewModel vm = practising();
    hear_steady(vm, Dbfs{-40.0}, Seconds{1.0});
    CHECK(practice(vm).second == "The clock starts and stops by itself.");
    hear_steady(vm, Dbfs{-40.0}, Seconds{1.2});
    CHECK(practice(vm).second == "There is sound, but no single clear note in it.");
    hear_steady(vm, Dbfs{-69.0}, Seconds{0.1});
    CHECK(practice(vm).second == "The clock starts and stops by itself.");
}

TEST_CASE("ten starts that the therapist names move the thresholds to her ear")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_details});
    vm.apply(Event{Action::open_starts});
    CHECK(figure(numbers(vm), "none yet") != "");
    vm.take_commands();
    // She calls hard what rises in 25 ms, which the usual thresholds call easy (20 ms and more).
    for (int i = 0; i < 10; ++i) {
        const bool is_hard = i % 2 == 0;
        vm.apply(finished(rising_in(is_hard ? 25.0 + 0.1 * i : 70.0 + i)));
        vm.apply(StageChanged{Stage::finished});
        vm.apply(Event{is_hard ? Action::name_hard : Action::name_easy});
        const auto commands = vm.take_commands();
        REQUIRE(count<UseOnsetThresholds>(commands) == 1);
        CHECK(count<ArmTrial>(commands) == 1);  // the next start is listened for at once
        const auto used = std::get<UseOnsetThresholds>(commands[0]).thresholds;
        CHECK((used.hard_rise > Seconds{0.02}) == (i == 9));
    }
    CHECK(figure(numbers(vm), "your name for it") == "easy");
    CHECK(figure(numbers(vm), "easy, hard, breathy") == "5, 5, 0");
    // All ten are told apart by their rise; the usual thresholds miss the five hard ones.
    CHECK(figure(numbers(vm), "with what was learnt") ==
          "100 % of 10, kappa 1.00; each start left out in its turn");
    CHECK(figure(numbers(vm), "without it") == "50 % of 10, kappa 0.00");

    vm.apply(Event{Action::take_back});
    CHECK(figure(numbers(vm), "to go") == "1, then your names are used");
    const auto commands = vm.take_commands();
    REQUIRE(count<UseOnsetThresholds>(commands) == 1);
    CHECK(std::get<UseOnsetThresholds>(commands[0]).thresholds.hard_rise ==
          OnsetThresholds{}.hard_rise);
}

TEST_CASE("a start that she thinks of again is named once, one that was not clear not at all")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_details});
    vm.apply(Event{Action::open_starts});
    vm.apply(finished(rising_in(30.0)));
    vm.apply(Event{Action::name_hard});
    vm.apply(Event{Action::name_breathy});
    CHECK(figure(numbers(vm), "easy, hard, breathy") == "0, 0, 1");
    TrialFinished unclear = finished({});
    unclear.hold.start.features.reset();
    vm.apply(unclear);
    vm.apply(Event{Action::name_easy});
    CHECK(figure(numbers(vm), "easy, hard, breathy") == "0, 0, 1");
    CHECK(has(figure(numbers(vm), "your name for it"), "not clear"));
}

TEST_CASE("her names are kept in the client's record, and come back with it")
{
    ViewModel vm = practising();
    HomeLoaded home;
    home.file.client.id = Id{std::string(32, 'a')};
    home.today = Date{std::chrono::year{2031}, std::chrono::March, std::chrono::day{3}};
    vm.apply(Answer{home});
    vm.apply(Event{Action::open_details});
    vm.apply(Event{Action::open_starts});
    vm.apply(finished(rising_in(30.0)));
    vm.apply(Event{Action::name_hard});
    vm.take_requests();
    vm.apply(Event{Action::back});
    const auto requests = vm.take_requests();
    REQUIRE(requests.size() == 1);
    const auto* change = std::get_if<ChangeClient>(&requests[0].request);
    REQUIRE(change != nullptr);
    CHECK(change->client.id == home.file.client.id);
    REQUIRE(change->client.onset_baseline);
    CHECK(change->client.onset_baseline->labelled == home.today);
    CHECK(change->client.onset_baseline->onsets.size() == 1);

    ViewModel again = practising();
    home.file.client = change->client;
    again.apply(Answer{home});
    CHECK(count<UseOnsetThresholds>(again.take_commands()) == 1);
    again.apply(Event{Action::open_details});
    again.apply(Event{Action::open_starts});
    CHECK(figure(numbers(again), "easy, hard, breathy") == "0, 1, 0");
    again.take_requests();
    again.apply(Event{Action::back});
    CHECK(again.take_requests().empty());  // nothing was named
}

TEST_CASE("a meter's reading of a steady sound makes levels dB SPL, on this microphone only")
{
    ViewModel vm = practising();
    vm.apply(finished(rising_in(60.0)));
    vm.apply(Event{Action::open_details});
    CHECK(figure(numbers(vm), "sound pressure").empty());
    vm.apply(Event{Action::open_calibration});
    for (int i = 0; i < 4; ++i) vm.apply(Event{Action::right});  // 74 dB
    CHECK(rows(vm).rows[0].value == "74 dB");
    vm.apply(Event{Action::proceed});
    CHECK(has(rows(vm).rows[3].meaning, "not kept"));  // no sound yet
    hear_steady(vm, Dbfs{-32.0}, Seconds{1.1});
    CHECK(has(rows(vm).rows[3].value, "32.0 dBFS, steady"));
    vm.apply(Event{Action::proceed});
    CHECK(rows(vm).rows[3].meaning == "kept, for this microphone");
    vm.apply(Event{Action::back});
    // Her level is -24 dBFS: 74 + (32 - 24) = 82.
    CHECK(figure(numbers(vm), "sound pressure") == "82 dB SPL (C), at 30 cm");
    CHECK(has(figure(numbers(vm), "set-up"), "74 dB C at 30 cm"));

    vm.apply(CaptureChanged{CaptureState::live, "Another microphone", "", {48'000.0}});
    CHECK(figure(numbers(vm), "sound pressure").empty());
    vm.apply(CaptureChanged{CaptureState::live, "Desk microphone", "", {44'100.0}});
    CHECK(figure(numbers(vm), "sound pressure").empty());
    vm.apply(CaptureChanged{CaptureState::live, "Desk microphone", "", {48'000.0}});
    CHECK(figure(numbers(vm), "sound pressure") != "");
    vm.apply(Event{Action::open_calibration});
    vm.apply(Event{Action::take_back});
    vm.apply(Event{Action::back});
    CHECK(figure(numbers(vm), "sound pressure").empty());
}

TEST_CASE("an unsteady sound and an A-weighted reading are not kept")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_details});
    vm.apply(Event{Action::open_calibration});
    for (int i = 0; i < 10; ++i) hear_steady(vm, Dbfs{i % 2 == 0 ? -30.0 : -36.0}, Seconds{0.1});
    vm.apply(Event{Action::proceed});
    CHECK(rows(vm).rows[3].meaning == "not kept: let it sound evenly for a second");
    hear_steady(vm, Dbfs{-30.0}, Seconds{1.1});
    vm.apply(Event{StepRow{1, -1}});  // C to A
    CHECK(rows(vm).rows[1].value == "A");
    vm.apply(Event{Action::proceed});
    CHECK(rows(vm).rows[3].meaning == "not kept: set the meter to C or Z");
    CHECK_FALSE(vm.preferences().spl);
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{2, -1}});
    CHECK(rows(vm).rows[2].value == "3 cm");
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{2, +1}});
    CHECK(rows(vm).rows[2].value == "300 cm");
}

TEST_CASE("a set-up that changed since the last sound check is told")
{
    ViewModel vm = practising();
    const auto checked = [&vm](double room, double comfortable) {
        vm.apply(Event{Action::open_sound_check});
        vm.apply(check(room, comfortable));
        const std::string last = sound_check(vm).findings.back();
        vm.apply(Event{Action::back});
        return last;
    };
    CHECK_FALSE(has(checked(-66.0, -36.0), "cannot be compared"));  // the first of all
    CHECK_FALSE(has(checked(-64.0, -33.0), "cannot be compared"));
    CHECK(has(checked(-54.0, -23.0), "about 10 dB louder"));
    CHECK_FALSE(has(checked(-54.0, -23.0), "cannot be compared"));
    vm.apply(CaptureChanged{CaptureState::live, "Another microphone", "", {48'000.0}});
    CHECK(has(checked(-54.0, -23.0), "another microphone"));
}

TEST_CASE("calibration and the last check come back from the preferences, whole or not at all")
{
    Preferences p;
    p.spl = SplReference{.reading = {.meter = {74.0},
                                     .weighting = Weighting::z,
                                     .distance = {0.3},
                                     .level = {-31.25}},
                         .microphone = "USB = odd name",
                         .rate = {48'000.0}};
    p.last_check = CheckedSetup{.microphone = "Desk microphone",
                                .rate = {44'100.0},
                                .room = {-61.5},
                                .voice = {-30.5},
                                .input_level = 3};
    CHECK(parse_preferences(text_of(p)) == p);
    CHECK_FALSE(parse_preferences("spl_meter_db = 74\nspl_weighting = C\n").spl);
    CHECK_FALSE(parse_preferences("check_room_dbfs = -60\n").last_check);
    const std::string loud = "spl_meter_db = 500\nspl_level_dbfs = -30\nspl_distance_cm = 30\n"
                             "spl_rate_hz = 48000\n";
    CHECK_FALSE(parse_preferences(loud).spl);
}
