#include "app/cli/measure.h"

#include <fmt/format.h>

#include <span>

#include "app/base/ordered_work.h"
#include "app/cli/measure_file.h"
#include "app/cli/measure_text.h"
#include "app/files/measures.h"
#include "app/files/recording.h"

namespace holdwell {

namespace {

std::string written(const FileMeasures& measures, const MeasureOptions& options)
{
    switch (options.format) {
    case MeasureFormat::json:
        return as_json(measures) + "\n";
    case MeasureFormat::csv:
        return as_csv(measures);
    case MeasureFormat::text:
        return as_text(measures, options.task);
    }
    return {};
}

// A line that is written over by the next one, on a terminal only.
class ProgressLine {
public:
    ProgressLine(const Console& console, std::size_t files) : console_{console}, files_{files} {}

    void show(std::size_t i, const std::string& file)
    {
        if (!console_.err_is_terminal || files_ < 2) return;
        console_.err << fmt::format("\rMeasuring {} of {}: {}", i + 1, files_, file) << std::flush;
    }
    void clear()
    {
        if (!console_.err_is_terminal || files_ < 2) return;
        console_.err << "\r\x1b[K" << std::flush;
    }

private:
    const Console& console_;
    std::size_t files_;
};

ExitStatus finished(const Console& console, ExitStatus status)
{
    console.out.flush();
    if (console.out) return status;
    console.err << "holdwell: the results could not be written; check that the disk is not full\n";
    return ExitStatus::trouble;
}

void print(const FileMeasures& measures, const MeasureOptions& options, const Console& console)
{
    for (const std::string& warning : measures.warnings) console.err << warning << '\n';
    if (measures.error) console.err << *measures.error << '\n';
    const bool nothing_to_say = options.format == MeasureFormat::text && !measures.measured;
    if (!nothing_to_say) console.out << written(measures, options) << std::flush;
}

}  // namespace

ExitStatus measure(const MeasureOptions& options, const Console& console)
{
    const std::size_t count = options.files.size();
    OrderedWork<FileMeasures> work{
        count, static_cast<std::size_t>(options.jobs),
        [&options](std::size_t i) { return measure_file(options.files[i], options.task); }};
    ProgressLine progress{console, count};
    ExitStatus status = ExitStatus::ok;
    if (options.format == MeasureFormat::csv) console.out << csv_heading();
    for (std::size_t i = 0; i < count && console.out; ++i) {
        progress.show(i, options.files[i]);
        const FileMeasures measures = work.take(i);
        progress.clear();
        print(measures, options, console);
        if (measures.error) status = ExitStatus::trouble;
    }
    return finished(console, status);
}

ExitStatus print_frames(const MeasureOptions& options, const Console& console)
{
    constexpr std::size_t kBlock = 4800;
    Result<RecordingReader> opened = RecordingReader::open(options.files.front());
    if (!opened) {
        console.err << opened.error().message << '\n';
        return ExitStatus::trouble;
    }
    RecordingReader& reader = opened.value();
    const SampleRate rate = reader.format().sample_rate;
    Listener listener{{.sample_rate = rate}, options.task};
    const auto on_reading = [&](const FrameReading& r) { console.out << as_frames_row(r, rate); };

    console.out << frames_heading();
    std::vector<float> block(kBlock);
    while (const std::size_t got = reader.read(block)) {
        listener.push(std::span{block}.first(got), on_reading);
        listener.take_finished();
    }
    const auto shortfall = reader.shortfall();
    if (shortfall) console.err << *shortfall << '\n';
    return finished(console, shortfall ? ExitStatus::trouble : ExitStatus::ok);
}

}  // namespace holdwell
