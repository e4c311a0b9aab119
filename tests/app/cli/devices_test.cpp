#include <doctest/doctest.h>

#include "tests/app/cli/session.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("microphones are listed one a line, and having none, or no way to know, is a failure")
{
    using Names = std::vector<std::string>;
    const auto with = [](Result<Names> answer) {
        Surroundings around;
        around.list_microphones = [answer] { return answer; };
        return run({"devices"}, around);
    };
    const Ran two = with(Names{"Headset", "Built-in"});
    CHECK(two.status == ExitStatus::ok);
    CHECK(two.out == "Headset\nBuilt-in\n");

    const Ran none = with(Names{});
    CHECK(none.status == ExitStatus::trouble);
    CHECK(none.err == "holdwell devices: no microphone was found; plug one in, or switch one on in "
                      "the sound settings\n");

    const Ran failed = with(Error{"the sound system does not answer; start it again"});
    CHECK(failed.status == ExitStatus::trouble);
    CHECK(failed.err == "holdwell devices: the sound system does not answer; start it again\n");
}

TEST_CASE("without a command the window is asked for, with the recording that was named")
{
    std::string played = "none";
    Surroundings around;
    around.open_window = [&played](const WindowRequest& request) {
        played = request.recording;
        return ExitStatus::ok;
    };
    CHECK(run({}, around).status == ExitStatus::ok);
    CHECK(played.empty());
    CHECK(run({"--demo", "a b.flac"}, around).status == ExitStatus::ok);
    CHECK(played == "a b.flac");
    CHECK(run({}).err ==
          "holdwell: this copy was built without its window; use \"holdwell coach\"\n");
}
