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
