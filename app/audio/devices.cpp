#include "app/audio/devices.h"

#include <future>
#include <memory>
#include <optional>

#include "app/audio/job_thread.h"
#include "app/audio/settings.h"

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

std::string chosen_name()
{
    const auto file = settings_file();
    return file ? remembered(*file, kMicrophoneKey) : "";
}

}  // namespace

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
