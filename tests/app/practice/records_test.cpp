#include "app/practice/records.h"

#include <doctest/doctest.h>

#include <functional>

#include "tests/support/records/random_records.h"

namespace holdwell {
namespace {

constexpr SampleRate kRate{48'000.0};

Hold two_second_hold()
{
    Hold hold;
    hold.onset = {48'000};
    hold.offset = {144'000};
    hold.f0_median = Hertz{349.0};
    hold.deviation = Cents{-1.1};
    hold.in_band = Seconds{1.9};
    hold.snr = Decibels{31.0};
    hold.interruptions = {{{60'000}, Seconds{0.1}}, {{90'000}, Seconds{0.05}}};
    hold.start.named = OnsetClass::easy;
    hold.start.rise = Seconds{0.06};
    hold.quality = Quality{0.4, 2.0, {20.0}, {14.0}};
    hold.doubt = Doubt::noisy_room;
    return hold;
}

}  // namespace

TEST_CASE("a hold's measures are its length and what was noticed in it")
{
    const Measures measures = measures_of(two_second_hold(), kRate);
    const auto& m = std::get<HoldMeasures>(measures);
    CHECK(m.hold_time == Seconds{2.0});  // 96 000 samples of 48 000 a second
    CHECK(m.in_band == Seconds{1.9});
    CHECK(m.f0_median == Hertz{349.0});
    CHECK(m.deviation == Cents{-1.1});
    CHECK_FALSE(m.f0_sd);
    CHECK(m.interruptions == 2);
    CHECK(m.interrupted.count() == doctest::Approx(0.15));
    CHECK(m.onset == OnsetClass::easy);
    CHECK(m.rise == Seconds{0.06});
    CHECK_FALSE(m.air_lead);
    CHECK(m.snr == Decibels{31.0});
    REQUIRE(m.quality);
    CHECK(m.quality->hnr == Decibels{20.0});
    CHECK(m.doubt == Doubt::noisy_room);
    CHECK_FALSE(m.loudness);
}

TEST_CASE("a glide's measures count jumps and gaps, and keep the largest jump without its sign")
{
    Glide glide;
    glide.onset = {0};
    glide.offset = {240'000};
    glide.lowest = Hertz{220.0};
    glide.highest = Hertz{880.0};
    glide.smoothness = 0.9;
    glide.breaks = {{{1000}, BreakKind::jump, Semitones{4.0}, {}},
                    {{2000}, BreakKind::jump, Semitones{-7.0}, {}},
                    {{3000}, BreakKind::gap, {}, Seconds{0.1}}};
    const Measures measures = measures_of(glide, kRate);
    const auto& m = std::get<GlideMeasures>(measures);
    CHECK(m.length == Seconds{5.0});
    CHECK(m.jumps == 2);
    CHECK(m.gaps == 1);
    CHECK(m.breaks() == 3);
    CHECK(m.largest_jump == Semitones{7.0});
    REQUIRE(m.range());
    CHECK(m.range()->value == doctest::Approx(24.0));  // two octaves
    CHECK_FALSE(std::get<GlideMeasures>(measures_of(Glide{}, kRate)).range());
}

TEST_CASE("an /s/ keeps whether the system may have faded it")
{
    Sibilant hiss{.onset = {0}, .offset = {24'000}, .fading_suspected = true};
    const Measures measures = measures_of(hiss, kRate);
    const auto& m = std::get<SibilantMeasures>(measures);
    CHECK(m.length == Seconds{0.5});
    CHECK(m.fading_suspected);
}

TEST_CASE("lost samples are remembered of whatever they fell into")
{
    for (const bool lost : {false, true}) {
        Hold hold = two_second_hold();
        hold.has_gap = lost;
        CHECK(std::get<HoldMeasures>(measures_of(hold, kRate)).has_gap == lost);
        Glide glide;
        glide.has_gap = lost;
        CHECK(std::get<GlideMeasures>(measures_of(glide, kRate)).has_gap == lost);
        Sibilant hiss;
        hiss.has_gap = lost;
        CHECK(std::get<SibilantMeasures>(measures_of(hiss, kRate)).has_gap == lost);
    }
}

TEST_CASE("records are the same as themselves, and each single change tells them apart")
{
    using Change = std::function<void(Practice&)>;
    const auto hold = [](Practice& p) -> HoldMeasures& {
        return std::get<HoldMeasures>(p.trials[0].measures);
    };
    const std::vector<Change> changes{
        [](Practice& p) { p.id.text += "0"; },
        [](Practice& p) { p.client.text += "0"; },
        [](Practice& p) { p.plan.text += "0"; },
        [](Practice& p) { ++p.plan_revision; },
        [](Practice& p) { ++p.taper_step; },
        [](Practice& p) { p.kind = PracticeKind::in_session; },
        [](Practice& p) { p.begun.time.since_midnight += std::chrono::minutes{1}; },
        [](Practice& p) { p.completion = Completion::partial; },
        [](Practice& p) { ++p.trials_asked; },
        [](Practice& p) { p.before.unwell = true; },
        [](Practice& p) {
            p.rating = SelfRating{1, 0};
        },
        [](Practice& p) { p.sound_check.emplace(); },
        [](Practice& p) { p.remark = "soft today"; },
        [](Practice& p) { p.trials.pop_back(); },
        [](Practice& p) { std::swap(p.trials[0], p.trials[1]); },
        [](Practice& p) { p.trials[0].id.text += "0"; },
        [](Practice& p) { ++p.trials[0].number; },
        [](Practice& p) { p.trials[0].kind = DrillKind::ladder_hold; },
        [](Practice& p) { p.trials[0].target = kF3; },
        [](Practice& p) { ++p.trials[0].repetition; },
        [](Practice& p) { p.trials[0].goal = Seconds{1.0}; },
        [](Practice& p) { p.trials[0].band = Cents{1.0}; },
        [](Practice& p) { p.trials[0].begun += Seconds{1e-9}; },
        [](Practice& p) { p.trials[0].measures = SibilantMeasures{}; },
        [&](Practice& p) { hold(p).hold_time += Seconds{1e-9}; },
        [&](Practice& p) { hold(p).in_band.reset(); },
        [&](Practice& p) { hold(p).f0_sd = Cents{1.0}; },
        [&](Practice& p) { hold(p).ended_by = HoldEnd::fry; },
        [&](Practice& p) { hold(p).loudness = Decibels{0.0}; },
        [&](Practice& p) { hold(p).quality->shimmer_percent = 2.5; },
        [&](Practice& p) { hold(p).quality.reset(); },
        [&](Practice& p) { hold(p).has_gap = true; },
        [&](Practice& p) { hold(p).doubt.reset(); },
        [](Practice& p) { std::get<GlideMeasures>(p.trials[1].measures).gaps = 9; },
        [](Practice& p) { std::get<GlideMeasures>(p.trials[1].measures).has_gap = true; }};
    Practice practice;
    practice.trials = {{.number = 1, .measures = measures_of(two_second_hold(), kRate)},
                       {.number = 2, .measures = measures_of(Glide{}, kRate)}};
    for (std::size_t i = 0; i < changes.size(); ++i) {
        CAPTURE(i);
        Practice other = practice;
        CHECK(same(practice, other));
        changes[i](other);
        CHECK_FALSE(same(practice, other));
    }
}

TEST_CASE("clients are the same down to the onsets that were named for them")
{
    test::RandomRecords records{3};
    int with_onsets = 0;
    for (int i = 0; i < 100; ++i) {
        const Client client = records.client();
        Client other = client;
        CHECK(same(client, other));
        other.keeps_audio = !other.keeps_audio;
        CHECK_FALSE(same(client, other));
        other = client;
        if (!client.onset_baseline || client.onset_baseline->onsets.empty()) continue;
        ++with_onsets;
        other.onset_baseline->onsets.back().features.snr.value += 1.0;
        CHECK_FALSE(same(client, other));
    }
    CHECK(with_onsets > 10);
}

}  // namespace holdwell
