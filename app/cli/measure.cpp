#include "app/cli/measure.h"

#include <fmt/format.h>

#include <span>

#include "app/base/ordered_work.h"
#include "app/cli/look_through.h"
#include "app/cli/measure_file.h"
#include "app/cli/measure_text.h"
#include "app/cli/phrases.h"
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

// Names of files may hold bytes that steer a terminal.
void say_wrong(const std::string& sentence, const Console& console)
{
    console.err << printable(sentence) << '\n';
}

// A line that is written over by the next one, on a terminal only.
class ProgressLine {
public:
    ProgressLine(const Console& console, std::size_t files) : console_{console}, files_{files} {}

    void show(std::size_t i, const std::string& file)
    {
        if (!console_.err_is_terminal || files_ < 2) return;
        console_.err << fmt::format("\rMeasuring {} of {}: {}", i + 1, files_, printable(file))
                     << std::flush;
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
    for (const std::string& warning : measures.warnings) say_wrong(warning, console);
    if (measures.error) say_wrong(*measures.error, console);
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
    const std::string& path = options.files.front();
    Result<RecordingReader> opened = RecordingReader::open(path);
    if (!opened) {
        say_wrong(opened.error().message, console);
        return ExitStatus::trouble;
    }
    RecordingReader& reader = opened.value();
    const SampleRate rate = reader.format().sample_rate;
    Listener listener{{.sample_rate = rate}, options.task};
    const auto on_reading = [&](const FrameReading& r) { console.out << as_frames_row(r, rate); };

    std::vector<float> block(kBlock);
    std::size_t got = reader.read(block);
    if (got == 0) {
        say_wrong(sentence_on_no_sound(path), console);
        return ExitStatus::trouble;
    }
    console.out << frames_heading();
    for (; got > 0; got = reader.read(block)) {
        listener.push(std::span{block}.first(got), on_reading);
        listener.take_finished();
    }
    if (const auto warning = sentence_on_replaced(path, reader.replaced()))
        say_wrong(*warning, console);
    const auto shortfall = reader.shortfall();
    if (shortfall) say_wrong(*shortfall, console);
    return finished(console, shortfall ? ExitStatus::trouble : ExitStatus::ok);
}

}  // namespace holdwell
