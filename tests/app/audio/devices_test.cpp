#include "app/audio/devices.h"

#include <doctest/doctest.h>

using namespace holdwell;

TEST_CASE("a microphone is described by its name, rates and channels, and by who chose it")
{
    const MicrophoneList list{
        .devices = {{.name = "default",
                     .channels = 32,
                     .rates = {{44'100.0}, {48'000.0}},
                     .is_default = true},
                    {.name = "USB mic", .channels = 1, .rates = {{48'000.0}}, .is_default = false},
                    {.name = "busy", .channels = 2, .rates = {}, .is_default = false}},
        .chosen = "USB mic"};
    const std::vector<std::string> expected{
        "default: 44.1 or 48 kHz, 32 channels; the system's own choice",
        "USB mic: 48 kHz, 1 channel; chosen", "busy: in use or not answering, 2 channels"};
    CHECK(lines_about(list) == expected);
}
