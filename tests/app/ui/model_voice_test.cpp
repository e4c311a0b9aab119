// The therapist's voice as a model, on a page: recorded, given up, and heard again.

#include <doctest/doctest.h>

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/engine/sound_cutter.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/placed_text.h"
#include "tests/app/ui/practising.h"
#include "tests/app/ui/window_sizes.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Enter records, the letter H plays, Escape leaves; it remembers what it was given.
class ModelPage final : public Page {
public:
    explicit ModelPage(std::optional<ModelVoice>& given, int& left) : given_{given}, left_{left} {}
    PageView view() const override
    {
        PageView shown;
        shown.title = "Your voice as the model";
        shown.lead = "Sung softly, as you would have it sung.";
        shown.blocks.emplace_back(RowBlock{.kind = RowBlock::Kind::link,
                                           .label = "Warm-up hold on F4",
                                           .value = {},
                                           .columns = {given_ ? "your voice" : "the tone"}});
        shown.keys = {{"Enter", "record", '\n'}, {"H", "hear it", 'H'}, {"Esc", "back", 27}};
        return shown;
    }
    void act(const PageEvent& event) override
    {
        const auto* press = std::get_if<PressKey>(&event);
        if (press == nullptr) return;
        if (press->key == PressKey::Key::proceed) wish(RecordModel{DrillKind::warm_up_hold, kF4});
        if (press->key == PressKey::Key::letter) wish(HearModel{*given_});
        if (press->key == PressKey::Key::back) ++left_;
    }
    void hear(const Answer&) override {}
    void recorded(const ModelVoice& model) override { given_ = model; }

private:
    std::optional<ModelVoice>& given_;
    int& left_;
};

struct OnPage {
    OnPage()
    {
        vm.open_page(std::make_unique<ModelPage>(given, left));
        for (const Update& u : scripted::beginning()) vm.apply(u);
        vm.take_commands();
    }
    std::vector<Command> press(PressKey::Key key)
    {
        vm.apply(Event{PressKey{.key = key, .letter = 'H'}});
        return vm.take_commands();
    }
    std::string notice() { return std::get<PageView>(vm.view().screen).notice; }

    std::optional<ModelVoice> given;
    int left{0};
    ViewModel vm{{.drills = {}, .opens_on = OpensOn::page}, practised()};
};

ModelCaptured captured()
{
    ModelCaptured model;
    model.kind = DrillKind::warm_up_hold;
    model.note = kF4;
    model.flac.resize(64);
    return model;
}

ModelCaptured not_whole()
{
    ModelCaptured model = captured();
    model.flac.clear();
    model.trouble = kModelNotWhole;
    return model;
}

}  // namespace

TEST_CASE("a model that was recorded goes to the page that asked for it, and can be heard there")
{
    OnPage on;
    CHECK(count<CaptureModel>(on.press(PressKey::Key::proceed)) == 1);
    CHECK(on.notice().find("Recording") != std::string::npos);
    on.vm.apply(captured());
    REQUIRE(on.given);
    CHECK(on.given->note == kF4);

    const auto commands = on.press(PressKey::Key::letter);
    CHECK(count<UseModel>(commands) == 1);
    CHECK(count<HearNote>(commands) == 1);
    // Once it has sounded nothing is listened for, and the next drill has its tone again.
    on.vm.apply(StageChanged{Stage::playing});
    CHECK(on.vm.take_commands().empty());
    // What sounds is not recorded.
    CHECK(on.press(PressKey::Key::proceed).empty());
    CHECK(on.notice().find("still sounds") != std::string::npos);
    on.vm.apply(StageChanged{Stage::settling});
    const auto after = on.vm.take_commands();
    CHECK(count<PauseListening>(after) == 1);
    REQUIRE(count<UseModel>(after) == 1);
    for (const Command& command : after)
        if (const auto* use = std::get_if<UseModel>(&command)) CHECK(use->flac == nullptr);
}

TEST_CASE("Escape gives up a recording and stays on the page, and what comes late is not taken")
{
    OnPage on;
    on.press(PressKey::Key::proceed);
    CHECK(count<PauseListening>(on.press(PressKey::Key::back)) == 1);
    CHECK(on.left == 0);
    on.vm.apply(captured());
    CHECK_FALSE(on.given);
    on.press(PressKey::Key::back);
    CHECK(on.left == 1);
}

TEST_CASE("what a recording came to is said until the next key")
{
    OnPage on;
    on.press(PressKey::Key::proceed);
    ModelCaptured none = captured();
    none.flac.clear();
    none.trouble = "No voice was heard. Record it once more.";
    on.vm.apply(none);
    CHECK(on.notice() == none.trouble);
    CHECK_FALSE(on.given);
    on.press(PressKey::Key::right);
    CHECK(on.notice().empty());
}

TEST_CASE("a recording with lost samples is said to be none, and the earlier one stays")
{
    OnPage on;
    on.press(PressKey::Key::proceed);
    on.vm.apply(captured());
    const auto earlier = on.given;
    REQUIRE(earlier);

    on.press(PressKey::Key::proceed);
    on.vm.apply(not_whole());
    CHECK(on.notice() == kModelNotWhole);
    CHECK(on.given == earlier);
    // And it can be done at once.
    CHECK(count<CaptureModel>(on.press(PressKey::Key::proceed)) == 1);
    on.vm.apply(captured());
    CHECK(on.given);
}

TEST_CASE("that a recording has lost samples can be read whole at any size")
{
    for (const WindowSize& size : kWindowSizes) {
        CAPTURE(size.width);
        CAPTURE(size.text);
        OnPage on;
        on.press(PressKey::Key::proceed);
        on.vm.apply(not_whole());
        WindowView view = on.vm.view();
        view.text_percent = size.text;
        Headless window{size.width, size.height, size.text};
        const FrameOutput output = window.draw(view);
        CHECK(faults_in(output, size.width, size.height) == std::vector<std::string>{});
        std::string all;
        for (const PlacedText& placed : output.placed) all += placed.text + ' ';
        CHECK_MESSAGE(all.find(kModelNotWhole) != std::string::npos, all);
    }
}
