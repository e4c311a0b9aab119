#include "app/audio/portaudio_session.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "app/audio/library_chatter.h"
#include "app/audio/model_samples.h"
#include "dsp/reference_tone.h"

namespace holdwell {

namespace {

// 480 frames and 20 ms: of the sizes measured the one whose blocks arrive most evenly.
constexpr unsigned long kFramesPerBlock = 480;
constexpr Seconds kListeningLatency{20ms};
// A note may come a little later, but not with a hole in it, whatever else the computer does: with
// 20 ms a busy one left out 10 to 40 ms of it, several times in a note. Less than kHushPatienceMs,
// so that its fade is heard.
constexpr Seconds kPlayingLatency{100ms};
// Of silence after a note: more than what a driver's buffer holds, which is two blocks above the
// latency asked for.
constexpr Seconds kTail{kPlayingLatency + Seconds{40ms}};
// Sound servers resample to whatever is asked for, and misreport what they run at: ask for 48 kHz.
constexpr std::array<SampleRate, 2> kRates{{{48'000.0}, {44'100.0}}};
constexpr int kMostChannels = 32;
constexpr int kHushPatienceMs = 200;

PaStreamParameters parameters_for(PaDeviceIndex device, int channels, Seconds latency)
{
    return {.device = device,
            .channelCount = channels,
            .sampleFormat = paFloat32,
            .suggestedLatency = latency.count(),
            .hostApiSpecificStreamInfo = nullptr};
}

std::string name_of_device(PaDeviceIndex device)
{
    const PaDeviceInfo* info = Pa_GetDeviceInfo(device);
    return info != nullptr && info->name != nullptr ? info->name : "";
}

int channels_in(PaDeviceIndex device)
{
    const PaDeviceInfo* info = Pa_GetDeviceInfo(device);
    return info != nullptr ? info->maxInputChannels : 0;
}

int channels_out(PaDeviceIndex device)
{
    const PaDeviceInfo* info = Pa_GetDeviceInfo(device);
    return info != nullptr ? info->maxOutputChannels : 0;
}

// The system's own choice first.
std::vector<PaDeviceIndex> input_indexes()
{
    std::vector<PaDeviceIndex> indexes;
    const PaDeviceIndex own_choice = Pa_GetDefaultInputDevice();
    if (own_choice != paNoDevice && channels_in(own_choice) > 0) indexes.push_back(own_choice);
    for (PaDeviceIndex i = 0; i < Pa_GetDeviceCount(); ++i) {
        if (i != own_choice && channels_in(i) > 0) indexes.push_back(i);
    }
    return indexes;
}

std::vector<int> channel_counts_to_try(int most)
{
    std::vector<int> counts;
    for (const int n : {1, 2, std::min(most, kMostChannels)}) {
        if (n <= most && std::find(counts.begin(), counts.end(), n) == counts.end()) {
            counts.push_back(n);
        }
    }
    return counts;
}

// One channel before several, then 48 kHz before 44.1 kHz, then the device's own rate.
std::vector<CaptureFormat> formats_to_try(int most_channels, double own_rate_hz)
{
    std::vector<CaptureFormat> formats;
    for (const int channels : channel_counts_to_try(most_channels)) {
        for (const SampleRate rate : kRates) formats.push_back({rate, channels});
        const bool known = own_rate_hz == kRates[0].hz || own_rate_hz == kRates[1].hz;
        if (!known && own_rate_hz >= 8'000.0) formats.push_back({{own_rate_hz}, channels});
    }
    return formats;
}

// Abort, not stop: Pa_StopStream waits for samples that a suspended source never delivers.
void abort_and_close(PaStream* stream)
{
    Pa_AbortStream(stream);
    Pa_CloseStream(stream);
}

}  // namespace

PortAudioSession::~PortAudioSession() { stop(); }

Outcome PortAudioSession::start()
{
    if (started_) return Done{};
    silence_library_chatter();
    if (!sound_configuration_is_usable()) {
        return Error{"The sound settings of this computer name no device; please have the ALSA "
                     "configuration looked at."};
    }
    if (const PaError error = Pa_Initialize(); error != paNoError) {
        return Error{std::string{"The sound system could not be started ("} +
                     Pa_GetErrorText(error) + "); please restart the computer."};
    }
    started_ = true;
    return Done{};
}

void PortAudioSession::stop()
{
    for (const OpenCapture& open : captures_) abort_and_close(open.pa);
    for (const OpenTone& open : tones_) abort_and_close(open.pa);
    captures_.clear();
    tones_.clear();
    if (started_) Pa_Terminate();
    started_ = false;
}

Outcome PortAudioSession::restart()
{
    stop();
    return start();
}

std::vector<InputDevice> PortAudioSession::inputs() const
{
    std::vector<InputDevice> devices;
    if (!started_) return devices;
    for (const PaDeviceIndex i : input_indexes()) {
        devices.push_back({.name = name_of_device(i),
                           .channels = channels_in(i),
                           .rates = {},
                           .is_default = i == Pa_GetDefaultInputDevice()});
    }
    return devices;
}

std::vector<SampleRate> PortAudioSession::accepted_rates(const std::string& name) const
{
    std::vector<SampleRate> accepted;
    for (const PaDeviceIndex i : input_indexes()) {
        if (name_of_device(i) != name) continue;
        for (const SampleRate rate : kRates) {
            const PaStreamParameters mono = parameters_for(i, 1, kListeningLatency);
            if (Pa_IsFormatSupported(&mono, nullptr, rate.hz) == paFormatIsSupported) {
                accepted.push_back(rate);
            }
        }
        break;
    }
    std::reverse(accepted.begin(), accepted.end());
    return accepted;
}

Result<std::shared_ptr<CaptureStream>> PortAudioSession::open_capture(const std::string& name)
{
    const std::vector<PaDeviceIndex> devices = input_indexes();
    if (devices.empty()) {
        return Error{"No microphone was found. Plug one in, and it will be used at once."};
    }
    const auto chosen = std::find_if(devices.begin(), devices.end(),
                                     [&](PaDeviceIndex i) { return name_of_device(i) == name; });
    if (chosen != devices.end()) {
        auto opened = open_device(*chosen);
        if (opened || *chosen == devices.front()) return opened;
    }
    auto stand_in = open_device(devices.front());
    if (stand_in && !name.empty()) {
        stand_in.value()->remark = "The microphone \"" + name +
                                   "\" cannot be used at the moment, so \"" +
                                   stand_in.value()->device + "\" is listening.";
    }
    return stand_in;
}

Result<std::shared_ptr<CaptureStream>> PortAudioSession::open_device(PaDeviceIndex device)
{
    const std::string name = name_of_device(device);
    const double own_rate_hz = Pa_GetDeviceInfo(device)->defaultSampleRate;
    for (const CaptureFormat& format : formats_to_try(channels_in(device), own_rate_hz)) {
        auto stream = std::make_shared<CaptureStream>(name, format);
        PaStream* pa = try_open(device, stream);
        if (pa == nullptr) continue;
        captures_.push_back({stream, pa});
        return stream;
    }
    return Error{"The microphone \"" + name +
                 "\" could not be opened. It may be unplugged, or in use by another program: "
                 "check it, or choose another microphone."};
}

PaStream* PortAudioSession::try_open(PaDeviceIndex device,
                                     const std::shared_ptr<CaptureStream>& stream)
{
    const PaStreamParameters input =
        parameters_for(device, stream->tap.channels(), kListeningLatency);
    PaStream* pa = nullptr;
    if (Pa_OpenStream(&pa, &input, nullptr, stream->rate.hz, kFramesPerBlock, paClipOff,
                      &capture_callback, &stream->tap) != paNoError) {
        return nullptr;
    }
    Pa_SetStreamFinishedCallback(pa, &capture_ended);
    if (Pa_StartStream(pa) == paNoError) return pa;
    Pa_CloseStream(pa);
    return nullptr;
}

void PortAudioSession::close_capture(const std::shared_ptr<CaptureStream>& stream)
{
    const auto open = std::find_if(captures_.begin(), captures_.end(),
                                   [&](const OpenCapture& c) { return c.stream == stream; });
    if (open == captures_.end()) return;  // closed by a restart
    abort_and_close(open->pa);
    captures_.erase(open);
}

Result<std::shared_ptr<ToneFeed>> PortAudioSession::play(const ToneRequest& tone)
{
    hush_tones();
    const PaDeviceIndex device = started_ ? Pa_GetDefaultOutputDevice() : paNoDevice;
    if (device == paNoDevice) {
        return Error{"The note could not be played, as no loudspeaker was found. You can sing "
                     "without it."};
    }
    for (const int channels : channel_counts_to_try(std::min(channels_out(device), 2))) {
        for (const SampleRate rate : kRates) {
            if (auto feed = try_play(tone, device, {rate, channels})) return feed;
        }
    }
    return Error{"The note could not be played, as the loudspeaker does not answer. You can sing "
                 "without it."};
}

std::shared_ptr<ToneFeed> PortAudioSession::try_play(const ToneRequest& tone, PaDeviceIndex device,
                                                     CaptureFormat format)
{
    const PaStreamParameters output = parameters_for(device, format.channels, kPlayingLatency);
    auto samples = tone.sound ? model_samples(*tone.sound, format.rate)
                              : samples_of({tone.f0, tone.length, format.rate});
    auto feed =
        std::make_shared<ToneFeed>(std::move(samples), format.channels,
                                   static_cast<std::size_t>(samples_in(kTail, format.rate).value));
    PaStream* pa = nullptr;
    if (Pa_OpenStream(&pa, nullptr, &output, format.rate.hz, kFramesPerBlock, paClipOff,
                      &tone_callback, feed.get()) != paNoError) {
        return nullptr;
    }
    Pa_SetStreamFinishedCallback(pa, &tone_ended);
    if (Pa_StartStream(pa) != paNoError) {
        Pa_CloseStream(pa);
        return nullptr;
    }
    tones_.push_back({feed, pa});
    return feed;
}

// Waits for the fade: a device of the simplest kind can be opened by one stream only.
void PortAudioSession::hush_tones()
{
    for (const OpenTone& open : tones_) open.feed->hush();
    const auto sounding = [](const OpenTone& open) { return !open.feed->ended(); };
    for (int waited = 0; waited < kHushPatienceMs; waited += 10) {
        if (std::none_of(tones_.begin(), tones_.end(), sounding)) break;
        Pa_Sleep(10);
    }
    for (const OpenTone& open : tones_) abort_and_close(open.pa);
    tones_.clear();
}

void PortAudioSession::close_ended_tones()
{
    const auto ended = std::partition(tones_.begin(), tones_.end(),
                                      [](const OpenTone& open) { return !open.feed->ended(); });
    std::for_each(ended, tones_.end(), [](const OpenTone& open) { abort_and_close(open.pa); });
    tones_.erase(ended, tones_.end());
}

}  // namespace holdwell
