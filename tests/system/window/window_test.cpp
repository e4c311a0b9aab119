// The real window on a virtual display, with keys pressed and a mouse moved from outside.
// Skipped, and said so, where Xvfb or xdotool is not installed.

#include <doctest/doctest.h>
#include <png.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include "app/ui/picture.h"
#include "app/ui/view_model.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/scripted.h"
#include "tests/system/window/display.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

const std::string kDriver = HOLDWELL_WINDOW_DRIVER;

// A window of its own on a display of its own, and what it has posted.
struct OnDisplay {
    VirtualDisplay display;
    std::filesystem::path log;
    std::unique_ptr<Process> program;

    explicit OnDisplay(std::vector<std::string> arguments)
    {
        if (!display.is_up()) return;
        log = display.folder() / "posted";
        arguments.insert(arguments.begin(), kDriver);
        program = std::make_unique<Process>(
            arguments, log,
            std::vector<std::string>{"DISPLAY=" + display.name(), "LP_NUM_THREADS=1"});
        REQUIRE(display.wait_for_window("Holdwell"));
    }
    bool posts(const std::string& text) const { return wait_for_text(log, text); }
};

struct PixelCounts {
    int width{0};
    int height{0};
    int paper{0};
    int accent{0};
    int red{0};
};

PixelCounts pixels_of(const std::filesystem::path& file)
{
    PixelCounts counts;
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_file(&image, file.c_str()) != 0);
    image.format = PNG_FORMAT_RGB;
    std::vector<unsigned char> rgb(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, rgb.data(), 0, nullptr) != 0);
    counts.width = static_cast<int>(image.width);
    counts.height = static_cast<int>(image.height);
    const Palette& p = palette_of(Shade::light);
    for (std::size_t i = 0; i + 2 < rgb.size(); i += 3) {
        const Colour c{rgb[i], rgb[i + 1], rgb[i + 2]};
        counts.paper += c == p.paper;
        counts.accent += c == p.accent;
        counts.red += c.r > 150 && c.g < 90 && c.b < 90;
    }
    return counts;
}

// Where the practice screen puts a text, from the same layout without a window.
Box place_of(const std::string& text)
{
    Headless headless{1280, 800, 100};
    Preferences p;
    p.cautions = Cautions::read;
    ViewModel vm{{}, p};
    for (const Update& u : scripted::beginning()) vm.apply(u);
    const FrameOutput output = headless.draw(vm.view());
    const auto found = std::ranges::find(output.placed, text, &PlacedText::text);
    REQUIRE(found != output.placed.end());
    return found->box;
}

}  // namespace

TEST_CASE("from the first start to a hold and out again by keys alone")
{
    OnDisplay stage{{"--first-run"}};
    if (!stage.display.is_up()) {
        MESSAGE("skipped: needs Xvfb and xdotool");
        return;
    }
    stage.display.key("n space");  // the cautions are not passed by accident
    CHECK(text_of(stage.log).empty());
    stage.display.key("Return");
    CHECK(stage.posts("BeginSoundCheck\n"));
    stage.display.key("Return");
    CHECK(stage.posts("BeginDrill F4 100\nHearNote\n"));
    CHECK(stage.posts("sung\n"));
    stage.display.key("space");
    CHECK(stage.posts("PauseListening\n"));
    stage.display.key("space");
    CHECK(stage.posts("ArmTrial\n"));
    stage.display.key("n");
    CHECK(stage.posts("BeginDrill C4 100\n"));
    stage.display.key("plus");
    CHECK(stage.posts("remember text 125\n"));
    stage.display.key("b Up 2");
    CHECK(stage.posts("HearTone 278.79\n"));  // C4 261.626 Hz times 2^(110/1200)
    stage.display.key("Escape");
    CHECK(stage.posts("BeginDrill C4 110\n"));
    stage.display.key("Escape");
    CHECK(stage.program->wait(std::chrono::seconds{10}) == 0);
}

TEST_CASE("the same by mouse")
{
    OnDisplay stage{{"--silent"}};
    if (!stage.display.is_up()) {
        MESSAGE("skipped: needs Xvfb and xdotool");
        return;
    }
    CHECK(stage.posts("HearNote\n"));
    const auto click = [&](const char* text) {
        const Box box = place_of(text);
        stage.display.click(box.x + box.w / 2, box.y + box.h / 2);
    };
    click("pause");
    CHECK(stage.posts("PauseListening\n"));
    click("next: C4");
    CHECK(stage.posts("BeginDrill C4 100\n"));
    click("leave");
    CHECK(stage.program->wait(std::chrono::seconds{10}) == 0);
}

TEST_CASE("what is on the screen is the ribbon on paper, and nothing red")
{
    OnDisplay stage{{}};
    if (!stage.display.is_up()) {
        MESSAGE("skipped: needs Xvfb and xdotool");
        return;
    }
    REQUIRE(stage.posts("sung\n"));
    std::this_thread::sleep_for(std::chrono::milliseconds{300});
    const PixelCounts shot = pixels_of(stage.display.shot("sung"));
    CHECK(shot.width == 1280);
    CHECK(shot.height == 800);
    CHECK(shot.paper > 1280 * 800 / 2);
    CHECK(shot.accent > 300);  // two seconds of ink
    CHECK(shot.red == 0);
}

// How often a frame is asked for is counted in tests/app/ui/redraw_test.cpp, without a clock: here
// a busy machine may leave frames out.
TEST_CASE("an idle window sleeps, a sounding one draws no more than 30 times a second")
{
    OnDisplay stage{{}};
    if (!stage.display.is_up()) {
        MESSAGE("skipped: needs Xvfb and xdotool");
        return;
    }
    REQUIRE(stage.posts("sung\n"));
    std::this_thread::sleep_for(std::chrono::seconds{1});
    const double before = stage.program->cpu_seconds();
    std::this_thread::sleep_for(std::chrono::seconds{3});
    const double idle = (stage.program->cpu_seconds() - before) / 3.0;
    MESSAGE("idle: " << 100.0 * idle << " % of one core");
    CHECK(idle < 0.02);
    stage.display.key("Escape");
    REQUIRE(stage.program->wait(std::chrono::seconds{10}) == 0);
    const std::string log = text_of(stage.log);
    const int frames = std::stoi(log.substr(log.find("frames ") + 7));
    MESSAGE("frames for two seconds of voice, start and end included: " << frames);
    CHECK(frames > 20);
    CHECK(frames < 2 * 30 + 40);
}

TEST_CASE("without a display there is one clear sentence")
{
    const auto log = std::filesystem::temp_directory_path() / "holdwell-no-display";
    Process program{{kDriver}, log, {}};
    CHECK(program.wait(std::chrono::seconds{10}) == 1);
    CHECK(text_of(log).starts_with("There is no display for the window ("));
    CHECK(text_of(log).find("coach in the terminal") != std::string::npos);
    std::filesystem::remove(log);
}

TEST_CASE("a demo that is not there, or is no sound, is refused before a window opens")
{
    const auto folder = std::filesystem::temp_directory_path();
    const auto text = folder / "holdwell-no-sound.wav";
    std::ofstream{text} << "a letter, not a voice";
    const auto log = folder / "holdwell-refused";
    for (const auto& file : {folder / "holdwell-missing.wav", text}) {
        CAPTURE(file.string());
        // Without a display: the window would be refused as well, in another sentence.
        const std::string command =
            std::string{HOLDWELL_PROGRAM} + " --demo " + file.string() + " 2>&1";
        Process program{{"sh", "-c", command}, log, {}};
        CHECK(program.wait(std::chrono::seconds{10}) == 1);
        CHECK(text_of(log).starts_with(file.string() + ": "));
        CHECK(text_of(log).find("display") == std::string::npos);
    }
    std::filesystem::remove(text);
    std::filesystem::remove(log);
}
