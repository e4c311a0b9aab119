#pragma once
// One opened microphone: what the audio thread fills, the sound thread opens and closes, and the
// worker empties.

#include <string>
#include <utility>

#include "app/audio/audio_tap.h"
#include "app/engine/ring.h"

namespace holdwell {

struct CaptureFormat {
    SampleRate rate{};
    int channels{1};
};

struct CaptureStream {
    CaptureStream(std::string device_name, CaptureFormat format)
        : device{std::move(device_name)}, rate{format.rate}, tap{ring, format.channels}
    {
    }

    const std::string device;
    const SampleRate rate;
    std::string
        remark;  // one sentence for the person, e.g. that another device stands in; or empty
    AudioRing ring;
    AudioTap tap;
};

}  // namespace holdwell
