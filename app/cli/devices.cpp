#include "app/cli/devices.h"

namespace holdwell {

ExitStatus list_devices(const Console& console, const ListMicrophones& list_microphones)
{
    if (!list_microphones) {
        console.err << "holdwell devices: this copy was built without sound\n";
        return ExitStatus::trouble;
    }
    const auto names = list_microphones();
    if (!names) {
        console.err << "holdwell devices: " << names.error().message << '\n';
        return ExitStatus::trouble;
    }
    if (names.value().empty()) {
        console.err << "holdwell devices: no microphone was found; plug one in, or switch one on "
                       "in the sound settings\n";
        return ExitStatus::trouble;
    }
    for (const std::string& name : names.value()) console.out << name << '\n';
    return ExitStatus::ok;
}

}  // namespace holdwell
