// What a demonstration was asked for. The words are those of demo-sessions/README.md.

#include <doctest/doctest.h>

#include "app/files/demo_drill.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;

TEST_CASE("the file beside a recording says what its voice was asked for")
{
    const test::ScratchFolder folder;
    folder.file("up.json", R"({"exercise": "glide up"})");
    folder.file("down.json", R"({"exercise": "glide down"})");
    folder.file("s.json", R"({"exercise": "s"})");
    folder.file("hold.json", R"({"exercise": "hold"})");
    CHECK(drill_of_demo(folder.path("up.flac")).kind == DrillKind::rising_glide);
    CHECK(drill_of_demo(folder.path("down.flac")).kind == DrillKind::falling_glide);
    CHECK(drill_of_demo(folder.path("s.flac")).kind == DrillKind::s_hold);
    CHECK(drill_of_demo(folder.path("hold.flac")).kind == DrillKind::warm_up_hold);
}

TEST_CASE("without such a file, or with another in its place, it is the usual hold")
{
    const test::ScratchFolder folder;
    folder.file("broken.json", "{");
    folder.file("list.json", "[1]");
    folder.file("number.json", R"({"exercise": 3})");
    for (const char* name : {"none.flac", "broken.flac", "list.flac", "number.flac"}) {
        CAPTURE(name);
        const Drill drill = drill_of_demo(folder.path(name));
        CHECK(drill.kind == DrillKind::warm_up_hold);
        CHECK(drill.target == kF4);
    }
}

TEST_CASE("the demonstrations of a folder follow each other by name, from any of them and round")
{
    const test::ScratchFolder folder;
    for (const char* name : {"2.flac", "2.json", "1.flac", "1.json", "3.flac", "3.json",
                             "alone.flac", "told.json", "other.wav", "other.json"}) {
        folder.file(name, "");
    }
    const std::filesystem::path one = folder.path("1.flac");
    const std::filesystem::path two = folder.path("2.flac");
    const std::filesystem::path three = folder.path("3.flac");
    using Demos = std::vector<std::filesystem::path>;
    CHECK(demos_in(one.parent_path()) == Demos{one, two, three});
    CHECK(demos_from(two) == Demos{two, three, one});
    // A person's own recording is followed by nothing, nor is one that is not there.
    for (const char* name : {"alone.flac", "other.wav", "none.flac"}) {
        CAPTURE(name);
        CHECK(demos_from(folder.path(name)) == Demos{folder.path(name)});
    }
    CHECK(demos_in(folder.path("nowhere")).empty());
}
