#include "app/audio/devices.h"

#include <cmath>
#include <future>
#include <memory>
#include <optional>
#include <utility>

#include "app/audio/job_thread.h"
#include "app/base/settings.h"

namespace holdwell {

namespace {

constexpr Seconds kLongestLook{3.0};

Result<std::vector<InputDevice>> look()
{
    PortAudioSession session;
    const Outcome ready = session.start();
    if (!ready) return ready.error();
    std::vector<InputDevice> devices = session.inputs();
    for (InputDevice& device : devices) device.rates = session.accepted_rates(device.name);
    return devices;
}

std::string rates_in_words(const std::vector<SampleRate>& rates)
{
    std::string words;
    for (const SampleRate rate : rates) {
        if (!words.empty()) words += " or ";
        words += rate.hz == 44'100.0 ? "44.1" : std::to_string(std::lround(rate.hz / 1000.0));
    }
    return words.empty() ? "in use or not answering" : words + " kHz";
}

std::string chosen_name()
{
    const auto file = settings_file();
    return file ? remembered(*file, kMicrophoneKey) : "";
}

}  // namespace

std::vector<std::string> lines_about(const MicrophoneList& microphones)
{
    std::vector<std::string> lines;
    for (const InputDevice& device : microphones.devices) {
        std::string line = device.name + ": " + rates_in_words(device.rates) + ", " +
                           std::to_string(device.channels) +
                           (device.channels == 1 ? " channel" : " channels");
        if (device.is_default) line += "; the system's own choice";
        if (device.name == microphones.chosen) line += "; chosen";
        lines.push_back(std::move(line));
    }
    return lines;
}

Result<MicrophoneList> list_microphones()
{
    using Found = Result<std::vector<InputDevice>>;
    JobThread thread;
    auto promise = std::make_shared<std::promise<Found>>();
    std::future<Found> found = promise->get_future();
    thread.post([promise] { promise->set_value(look()); });
    if (found.wait_for(kLongestLook) != std::future_status::ready) {
        return Error{"The computer's sound system does not answer; try again, or restart it."};
    }
    const Found devices = found.get();
    if (!devices) return devices.error();
    return MicrophoneList{.devices = devices.value(), .chosen = chosen_name()};
}

}  // namespace holdwell
