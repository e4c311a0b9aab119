#pragma once
// PortAudio from its start to its end: devices, capture streams, tones. Any call may hang for as
// long as the sound server is frozen, so all of them belong on the sound thread (sound_system.h).

#include <memory>
#include <string>
#include <vector>

#include <portaudio.h>

#include "app/audio/audio_tap.h"
#include "app/audio/capture_stream.h"
#include "app/base/result.h"
#include "app/engine/engine.h"

namespace holdwell {

struct InputDevice {
    std::string name;
    int channels{1};                // most that can be captured
    std::vector<SampleRate> rates;  // of 44.1 and 48 kHz, those it accepts
    bool is_default{false};         // the system's own choice
};

class PortAudioSession {
public:
    PortAudioSession() = default;
    ~PortAudioSession();
    PortAudioSession(const PortAudioSession&) = delete;
    PortAudioSession& operator=(const PortAudioSession&) = delete;

    // Does nothing when started already.
    Outcome start();
    // Looks for devices anew, which PortAudio does only at its start: every stream is closed.
    Outcome restart();

    // The system's own choice first; without rates, which cost an opening each.
    std::vector<InputDevice> inputs() const;
    std::vector<SampleRate> accepted_rates(const std::string& name) const;

    // The device of that name, or the system's own choice when it is empty or not there.
    Result<std::shared_ptr<CaptureStream>> open_capture(const std::string& name);
    void close_capture(const std::shared_ptr<CaptureStream>& stream);

    // Begins to play; a tone that still sounds fades out.
    Result<std::shared_ptr<ToneFeed>> play(const ToneRequest& tone);
    void close_ended_tones();

private:
    struct OpenCapture {
        std::shared_ptr<CaptureStream> stream;
        PaStream* pa{};
    };
    struct OpenTone {
        std::shared_ptr<ToneFeed> feed;
        PaStream* pa{};
    };
    void stop();
    void hush_tones();
    Result<std::shared_ptr<CaptureStream>> open_device(PaDeviceIndex device);
    PaStream* try_open(PaDeviceIndex device, const std::shared_ptr<CaptureStream>& stream);
    // Null when the device does not take that format.
    std::shared_ptr<ToneFeed> try_play(const ToneRequest& tone, PaDeviceIndex device,
                                       CaptureFormat format);

    bool started_{false};
    std::vector<OpenCapture> captures_;
    std::vector<OpenTone> tones_;
};

}  // namespace holdwell
