#include "app/cli/measure_options.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <thread>
#include <utility>

#include "app/cli/values.h"

namespace holdwell {

namespace {

constexpr NumberRange kBand{"--band", 1.0, 1200.0, "cents", "100"};
constexpr NumberRange kBridge{"--bridge", 0.0, 2000.0, "milliseconds", "300"};
constexpr NumberRange kShortest{"--shortest", 0.1, 60.0, "seconds", "1.0"};
constexpr NumberRange kJobs{"--jobs", 1.0, 256.0, "", "2"};

constexpr std::array<std::pair<std::string_view, Sought>, 6> kDrills{
    {{"any", Sought::any},
     {"hold", Sought::hold},
     {"s", Sought::s_hold},
     {"z", Sought::z_hold},
     {"glide-up", Sought::glide_up},
     {"glide-down", Sought::glide_down}}};

constexpr std::array<std::pair<std::string_view, MeasureFormat>, 3> kFormats{
    {{"text", MeasureFormat::text}, {"json", MeasureFormat::json}, {"csv", MeasureFormat::csv}}};

template <typename Choice, std::size_t N>
Result<Choice> parse_choice(const std::string& text, std::string_view option,
                            const std::array<std::pair<std::string_view, Choice>, N>& choices)
{
    const auto found = std::ranges::find(choices, std::string_view{text},
                                         &std::pair<std::string_view, Choice>::first);
    if (found != choices.end()) return found->second;
    std::string names;
    for (const auto& [name, choice] : choices) {
        if (!names.empty()) names += &name == &choices.back().first ? " or " : ", ";
        names += name;
    }
    return Error{fmt::format("{}: it can be {}", as_typed(option, text), names)};
}

Result<ListeningTask> task_of(const MeasureArguments& arguments)
{
    const auto sought = parse_choice(arguments.drill, "--drill", kDrills);
    if (!sought) return sought.error();
    const auto band = parse_number(arguments.band, kBand);
    if (!band) return band.error();
    const auto bridge_ms = parse_number(arguments.bridge, kBridge);
    if (!bridge_ms) return bridge_ms.error();
    const auto shortest_s = parse_number(arguments.shortest, kShortest);
    if (!shortest_s) return shortest_s.error();

    ListeningTask task{.sought = sought.value(),
                       .target = {},
                       .band = {band.value()},
                       .bridge = std::chrono::duration<double, std::milli>{bridge_ms.value()},
                       .shortest = Seconds{shortest_s.value()}};
    if (!arguments.target) return task;
    const auto target = parse_pitch(*arguments.target, "--target");
    if (!target) return target.error();
    task.target = target.value();
    return task;
}

int jobs_for(std::size_t files)
{
    const auto processors = std::max<std::size_t>(std::thread::hardware_concurrency(), 1);
    return static_cast<int>(std::min(processors, files));
}

}  // namespace

Result<MeasureOptions> checked(const MeasureArguments& arguments)
{
    const auto task = task_of(arguments);
    if (!task) return task.error();
    const auto format = parse_choice(arguments.format, "--format", kFormats);
    if (!format) return format.error();
    if (arguments.files.empty())
        return Error{"name at least one recording, for example holdwell measure my-hold.wav"};
    if (arguments.frames && arguments.files.size() != 1)
        return Error{"--frames: name one recording at a time"};
    MeasureOptions options{.files = arguments.files,
                           .task = task.value(),
                           .format = format.value(),
                           .jobs = jobs_for(arguments.files.size())};
    if (!arguments.jobs) return options;
    const auto jobs = parse_whole_number(*arguments.jobs, kJobs);
    if (!jobs) return jobs.error();
    options.jobs = jobs.value();
    return options;
}

}  // namespace holdwell
