// What is cut out of a stream: models and, with consent, trials.

#include <doctest/doctest.h>

#include <vector>

#include "app/engine/sound_cutter.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{1000.0};  // a sample a millisecond: easily counted

// Each sample says which it is.
AudioBlock block_at(std::int64_t begin, std::size_t count)
{
    AudioBlock block;
    block.begin = SampleIndex{begin};
    block.count = count;
    for (std::size_t i = 0; i < count; ++i)
        block.samples[i] = static_cast<float>(begin + static_cast<std::int64_t>(i));
    return block;
}

FrameHeard frame_at(std::int64_t at, Phonation phonation)
{
    FrameHeard frame;
    frame.reading.hop_begin = SampleIndex{at};
    frame.reading.centre = SampleIndex{at};
    frame.reading.phonation = phonation;
    return frame;
}

TrialFinished hold(std::int64_t onset, std::int64_t offset)
{
    TrialFinished finished;
    finished.hold.onset = SampleIndex{onset};
    finished.hold.offset = SampleIndex{offset};
    return finished;
}

// The cutter, and the last sound it encoded.
struct Cut {
    SoundClip clip;
    SoundCutter cutter{[this](const SoundClip& c) -> Result<std::vector<std::byte>> {
        clip = c;
        return std::vector<std::byte>{std::byte{1}};
    }};
};

// Samples that never come, and how much later than that this is noticed.
struct Lost {
    std::int64_t begin;
    std::int64_t end;
    std::int64_t noticed_late{0};
};

// A voice from 2 s to 5 s, so that 1850 .. 5239 are kept: 0.15 s before its first frame to 0.25 s
// after its last, at 4990.
ModelCaptured recorded_with(Cut& cut, const Lost& lost)
{
    cut.cutter.begin(kRate);
    cut.cutter.apply(CaptureModel{.kind = DrillKind::ladder_hold, .note = Note{60}});
    for (std::int64_t at = 0; at < 10'000; at += 10) {
        if (at >= lost.begin && at < lost.end) continue;
        AudioBlock block = block_at(at, 10);
        if (at == lost.end) block.noticed_late = SampleCount{lost.noticed_late};
        cut.cutter.push(block);
        const bool sings = at >= 2000 && at < 5000;
        const auto update =
            cut.cutter.before(frame_at(at, sings ? Phonation::voiced : Phonation::silence));
        if (update) return std::get<ModelCaptured>(*update);
    }
    FAIL("no word of the model");
    return {};
}

}  // namespace

TEST_CASE("a trial is cut out with 0.3 s around it, and only while clips are kept")
{
    Cut cut;
    cut.cutter.begin(kRate);
    for (int i = 0; i < 50; ++i) cut.cutter.push(block_at(i * 100, 100));
    CHECK_FALSE(cut.cutter.before(hold(1000, 3000)));
    cut.cutter.apply(KeepClips{ClipKeeping::on});
    for (int i = 0; i < 50; ++i) cut.cutter.push(block_at(i * 100, 100));
    const auto update = cut.cutter.before(hold(1000, 3000));
    REQUIRE(update);
    CHECK(std::holds_alternative<ClipCaptured>(*update));
    REQUIRE(cut.clip.samples.size() == 2600);
    CHECK(cut.clip.samples.front() == 700.0f);
    CHECK(cut.clip.samples.back() == 3299.0f);
    cut.cutter.apply(KeepClips{ClipKeeping::off});
    CHECK_FALSE(cut.cutter.before(hold(1000, 3000)));
}

TEST_CASE("samples that were lost are silence in a clip, and time stays true")
{
    SoundKeeper keeper{Seconds{10.0}};
    keeper.begin(kRate);
    keeper.push(block_at(0, 100));
    keeper.push(block_at(150, 100));
    const SoundClip clip = keeper.between({90}, {160});
    REQUIRE(clip.samples.size() == 70);
    CHECK(clip.samples[9] == 99.0f);
    CHECK(clip.samples[10] == 0.0f);
    CHECK(clip.samples[60] == 150.0f);
    CHECK(clip.has_gap);
}

TEST_CASE("a clip has a gap when samples between its first and its last were lost, and only then")
{
    SoundKeeper keeper{Seconds{1.0}};
    keeper.begin(kRate);
    keeper.push(block_at(0, 300));
    keeper.push(block_at(350, 250));  // 300 .. 349 lost
    CHECK_FALSE(keeper.between({0}, {300}).has_gap);
    CHECK(keeper.between({0}, {301}).has_gap);
    CHECK(keeper.between({310}, {320}).has_gap);
    CHECK(keeper.between({349}, {600}).has_gap);
    CHECK_FALSE(keeper.between({350}, {600}).has_gap);
    AudioBlock late = block_at(610, 90);
    late.noticed_late = SampleCount{100};  // 10 lost somewhere in 500 .. 609
    keeper.push(late);
    CHECK_FALSE(keeper.between({350}, {500}).has_gap);
    CHECK(keeper.between({350}, {501}).has_gap);
    CHECK_FALSE(keeper.between({610}, {700}).has_gap);
    // Lost for longer than anything is kept: what was before it is gone as well.
    keeper.push(block_at(5000, 100));
    CHECK(keeper.between({610}, {700}).samples.empty());
    CHECK(keeper.between({610}, {700}).has_gap);
    CHECK_FALSE(keeper.between({5000}, {5100}).has_gap);
}

TEST_CASE("no more is kept in memory than the longest trial asks for")
{
    SoundKeeper keeper{Seconds{1.0}};
    keeper.begin(kRate);
    for (int i = 0; i < 100; ++i) keeper.push(block_at(i * 100, 100));
    CHECK(keeper.between({0}, {8000}).samples.empty());
    const SoundClip last = keeper.between({9000}, {10'000});
    REQUIRE(last.samples.size() == 1000);
    CHECK(last.samples.front() == 9000.0f);
}

TEST_CASE("a model is recorded from its first voice to its end, and a cough is none")
{
    Cut cut;
    cut.cutter.begin(kRate);
    CaptureModel asked;
    asked.kind = DrillKind::ladder_hold;
    asked.note = Note{60};
    cut.cutter.apply(asked);
    std::optional<ModelCaptured> model;
    for (std::int64_t at = 0; at < 10'000 && !model; at += 10) {
        cut.cutter.push(block_at(at, 10));
        const bool coughs = at >= 500 && at < 600;
        const bool sings = at >= 2000 && at < 5000;
        const auto update = cut.cutter.before(
            frame_at(at, coughs || sings ? Phonation::voiced : Phonation::silence));
        if (update) model = std::get<ModelCaptured>(*update);
    }
    REQUIRE(model);
    CHECK(model->note == Note{60});
    CHECK_FALSE(model->flac.empty());
    CHECK(cut.clip.samples.front() == doctest::Approx(1850.0));  // 0.15 s before the voice
    CHECK(cut.clip.samples.back() == doctest::Approx(5239.0).epsilon(0.01));
}

TEST_CASE(
    "a model in which samples were lost is refused, also in the room before and after the voice")
{
    const Lost rows[]{
        {1850, 1860},  // the first that would be kept
        {1400, 1900},
        {1990, 2000},
        {3000, 3010},
        {3000, 3700},
        {2100, 3500},  // a voice too short for a model, and one that goes on
                       // without a beginning
        {4990, 5000},
        {5230, 5240},        // the last
        {4500, 9000},        // the end of it was not heard at all
        {3000, 3050, 1200},  // noticed 1.2 s later than it may have been
        {5500, 5550, 1200},
        {6420, 6430, 1200},
    };
    for (const Lost& lost : rows) {
        CAPTURE(lost.begin);
        CAPTURE(lost.end);
        Cut cut;
        const ModelCaptured model = recorded_with(cut, lost);
        CHECK(model.flac.empty());
        CHECK(cut.clip.samples.empty());  // nothing was so much as encoded
        CHECK(model.note == Note{60});
        CHECK(model.trouble == "Some of the sound was lost by the computer, so it was not kept: "
                               "record it once more.");
    }
}

TEST_CASE("samples lost before or after what is kept of a model do not matter")
{
    const Lost rows[]{
        {0, 0},  // none
        {500, 1000},  {1840, 1850},       {1000, 1850, 800}, {5240, 5250},
        {5600, 5700}, {6450, 6500, 1200}, {6000, 9000},
    };
    for (const Lost& lost : rows) {
        CAPTURE(lost.begin);
        CAPTURE(lost.end);
        Cut cut;
        const ModelCaptured model = recorded_with(cut, lost);
        CHECK(model.trouble.empty());
        CHECK_FALSE(model.flac.empty());
        // Each sample in its place.
        REQUIRE(cut.clip.samples.size() == 3390);
        CHECK(cut.clip.samples.front() == 1850.0f);
        CHECK(cut.clip.samples.back() == 5239.0f);
    }
}

TEST_CASE("after a model that was refused the next one is recorded like any other")
{
    Cut cut;
    CHECK(recorded_with(cut, {3000, 3010}).flac.empty());
    CHECK_FALSE(recorded_with(cut, {0, 0}).flac.empty());
}

TEST_CASE("the breath around a voice and a note of ours are no part of a model")
{
    Cut cut;
    cut.cutter.begin(kRate);
    cut.cutter.apply(CaptureModel{});
    std::optional<ModelCaptured> model;
    for (std::int64_t at = 0; at < 12'000 && !model; at += 10) {
        cut.cutter.push(block_at(at, 10));
        if (at == 0) CHECK_FALSE(cut.cutter.before(StageChanged{Stage::playing}));
        if (at == 2000) CHECK_FALSE(cut.cutter.before(StageChanged{Stage::settling}));
        if (at == 2500) CHECK_FALSE(cut.cutter.before(StageChanged{Stage::paused}));
        const bool sounds = at < 2300 || (at >= 6000 && at < 8000);
        const bool breathes = (at >= 5300 && at < 6000) || (at >= 8000 && at < 8700);
        const auto update = cut.cutter.before(frame_at(at, sounds     ? Phonation::voiced
                                                           : breathes ? Phonation::frication
                                                                      : Phonation::silence));
        if (update) model = std::get<ModelCaptured>(*update);
    }
    REQUIRE(model);
    CHECK_FALSE(model->flac.empty());
    CHECK(cut.clip.samples.front() == doctest::Approx(5850.0));  // 0.15 s before the voice
    CHECK(cut.clip.samples.back() == doctest::Approx(8239.0));   // 0.25 s after its last frame
}

TEST_CASE("a model is at most 15 s long, and when nobody sings, that is said")
{
    Cut cut;
    cut.cutter.begin(kRate);
    cut.cutter.apply(CaptureModel{});
    std::optional<ModelCaptured> model;
    for (std::int64_t at = 0; at < 40'000 && !model; at += 10) {
        cut.cutter.push(block_at(at, 10));
        const auto update =
            cut.cutter.before(frame_at(at, at > 1000 ? Phonation::voiced : Phonation::silence));
        if (update) model = std::get<ModelCaptured>(*update);
    }
    REQUIRE(model);
    CHECK(cut.clip.samples.size() <= 15'000);
    CHECK(cut.clip.samples.size() > 14'000);

    cut.cutter.apply(CaptureModel{});
    model.reset();
    for (std::int64_t at = 50'000; at < 90'000 && !model; at += 10) {
        cut.cutter.push(block_at(at, 10));
        const auto update = cut.cutter.before(frame_at(at, Phonation::silence));
        if (update) model = std::get<ModelCaptured>(*update);
    }
    REQUIRE(model);
    CHECK(model->flac.empty());
    CHECK(model->trouble == "No voice was heard. Record it once more.");
}
