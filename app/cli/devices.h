#pragma once
// `holdwell devices`: the microphones, one a line, as the sound system describes them.

#include <functional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/cli/console.h"

namespace holdwell {

using ListMicrophones = std::function<Result<std::vector<std::string>>()>;

ExitStatus list_devices(const Console& console, const ListMicrophones& list_microphones);

}  // namespace holdwell
