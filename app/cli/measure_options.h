#pragma once
// The options of `holdwell measure`: as typed, and as checked.

#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "dsp/listener.h"

namespace holdwell {

enum class MeasureFormat { text, json, csv };

// As typed.
struct MeasureArguments {
    std::vector<std::string> files;
    std::string drill{"any"};
    std::optional<std::string> target{};  // absent: none
    std::string band{"100"};
    std::string bridge{"300"};
    std::string shortest{"1.0"};
    std::string format{"text"};
    std::optional<std::string> jobs{};  // absent: one for each processor
    bool frames{false};
};

struct MeasureOptions {
    std::vector<std::string> files;
    ListeningTask task;
    MeasureFormat format{MeasureFormat::text};
    int jobs{1};
};

Result<MeasureOptions> checked(const MeasureArguments& arguments);

}  // namespace holdwell
