#include "app/cli/coach_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <thread>

#include "app/base/settings.h"
#include "app/cli/interrupt.h"
#include "app/cli/look_through.h"
#include "app/cli/phrases.h"
#include "app/cli/plan_talk.h"
#include "app/engine/engine.h"
#include "app/engine/live_coach.h"
#include "app/engine/sound_memory.h"
#include "app/files/plan_file.h"
#include "app/files/recording.h"
#include "app/practice/cautions.h"
#include "app/practice/drill_words.h"
#include "app/practice/summary.h"

namespace holdwell {

namespace {

constexpr auto kLook = 20ms;  // for what was heard or typed

// Who practises what; all questions that come before it are answered.
struct Beginning {
    Client client;
    Plan plan;
    Practice practice;
};

void say(const Console& console, const std::string& line) { console.out << line << std::endl; }

void say(const Console& console, const Advice& advice)
{
    if (!advice.title.empty()) say(console, advice.title + ".");
    for (const std::string& sentence : advice.sentences) say(console, sentence);
}

ExitStatus trouble(const Console& console, const std::string& sentence)
{
    console.err << "holdwell coach: " << printable(sentence) << '\n';
    return ExitStatus::trouble;
}

// Waits for it; nothing when nothing more will be typed, or Ctrl and C were pressed.
std::optional<std::string> next_line(const Console& console, const InterruptWatch& watch)
{
    if (!console.typed) return std::nullopt;
    while (!watch.interrupted()) {
        const TypedLine typed = console.typed();
        if (typed.kind == TypedLine::Kind::line) return typed.text;
        if (typed.kind == TypedLine::Kind::ended) return std::nullopt;
        std::this_thread::sleep_for(kLook);
    }
    return std::nullopt;
}

std::optional<bool> ask_yes_or_no(const Console& console, const InterruptWatch& watch,
                                  const std::string& question)
{
    while (true) {
        say(console, question + " (yes or no)");
        const auto line = next_line(console, watch);
        if (!line) return std::nullopt;
        if (*line == "yes" || *line == "y") return true;
        if (*line == "no" || *line == "n" || line->empty()) return false;
    }
}

// 0 .. 10; nothing when it is left out.
std::optional<int> ask_scale(const Console& console, const InterruptWatch& watch,
                             const RatingText& rating)
{
    while (true) {
        say(console,
            fmt::format("{} 0 is {}, 10 is {}.", rating.question, rating.at_0, rating.at_10));
        const auto line = next_line(console, watch);
        if (!line || line->empty()) return std::nullopt;
        int value = -1;
        const char* end = line->data() + line->size();
        const auto read = std::from_chars(line->data(), end, value);
        if (read.ec == std::errc{} && read.ptr == end && value >= 0 && value <= 10) return value;
        say(console, "Type a number from 0 to 10, or nothing to leave it out.");
    }
}

// ---- before ------------------------------------------------------------------------------------

Result<Plan> plan_of(const PlanOptions& options, const ClientFile& home)
{
    const Plan usual;
    if (options.plan == kHomePlan) return home.plans.empty() ? usual : home.plans.back();
    PlanReading reading = load_plan(options.plan);
    if (reading.plan) return *reading.plan;
    // A file that could not be read is named by the sentence itself.
    const bool names_it = reading.faults.front().sentence.starts_with(options.plan);
    std::string faults = names_it ? "" : options.plan + ": ";
    for (const Fault& fault : reading.faults) faults += in_words(fault) + ' ';
    faults += "Nothing was begun.";
    return Error{faults};
}

std::optional<BeforePractice> asked_before(const Console& console, const InterruptWatch& watch)
{
    BeforePractice answers;
    for (const QuestionText& asked : before_questions()) {
        const auto answer = ask_yes_or_no(console, watch, asked.text);
        if (!answer) return std::nullopt;
        switch (asked.question) {
        case BeforeQuestion::pain:
            answers.pain = *answer;
            break;
        case BeforeQuestion::hoarser:
            answers.hoarser = *answer;
            break;
        case BeforeQuestion::unwell:
            answers.unwell = *answer;
            break;
        case BeforeQuestion::on_voice_rest:
            answers.on_voice_rest = *answer;
            break;
        }
    }
    return answers;
}

Practice new_practice(const Client& client, const Plan& plan, const BeforePractice& before)
{
    Practice practice;
    practice.client = client.id;
    practice.plan = plan.id;
    practice.plan_revision = plan.revision;
    practice.taper_step = plan.taper_step;
    practice.before = before;
    practice.trials_asked = static_cast<int>(trials_of(plan).size());
    return practice;
}

Result<Practice> begun(Office& office, const Practice& practice)
{
    const Answer answer = office.answer(BeginPractice{practice});
    if (const auto* made = std::get_if<PracticeBegun>(&answer)) return made->practice;
    if (const auto* refused = std::get_if<Refused>(&answer)) return Error{refused->sentence};
    return Error{"the records gave no answer; please start it again"};
}

void note_that_not_today(Office& office, Practice practice)
{
    practice.completion = Completion::not_today;
    const auto noted = begun(office, practice);
    if (!noted) return;
    practice = noted.value();
    practice.completion = Completion::not_today;
    static_cast<void>(office.answer(ClosePractice{practice}));
}

// ---- within ------------------------------------------------------------------------------------

GuideSetup setup_of(const PlanOptions& options, const Beginning& beginning)
{
    GuideSetup setup = guide_setup_of(beginning.plan, beginning.practice.trials);
    if (options.recording) setup.opening = GuideSetup::Opening::at_once;
    if (options.recording || options.cue == Cue::silent) setup.cue = NoteCue::silent;
    return setup;
}

GuidedPractice guided(const PlanOptions& options, const Beginning& beginning)
{
    const bool keeps = beginning.plan.keeps == Keeps::audio_too && beginning.client.keeps_audio;
    const auto settings = settings_file();
    return GuidedPractice{setup_of(options, beginning),
                          {.models = beginning.plan.models,
                           .keeping = keeps ? ClipKeeping::on : ClipKeeping::off,
                           .memory = settings ? remembered_sound(*settings) : SoundMemory{}}};
}

// For the next practice, here or in the window, to be compared with. A check that cannot be saved
// stands in this practice all the same.
void keep_sound_check(const SoundMemory& memory)
{
    const auto settings = settings_file();
    if (settings && memory.last_check && memory != remembered_sound(*settings))
        (void)remember_check(*settings, *memory.last_check);
}

ExitStatus hear_at_once(const std::string& path, PlanTalk& talk, const Console& console)
{
    Result<RecordingReader> opened = RecordingReader::open(path);
    if (!opened) {
        console.err << printable(opened.error().message) << '\n';
        return ExitStatus::trouble;
    }
    RecordingReader& reader = opened.value();
    const SampleRate rate = reader.format().sample_rate;
    Engine engine{{.sample_rate = rate}};
    CaptureChanged live;
    live.state = CaptureState::live;
    live.device = name_of_recording(path);
    live.sample_rate = rate;
    talk.hear(live);
    SampleIndex begin{};
    while (!talk.is_over()) {
        AudioBlock block{.begin = begin};
        block.count = reader.read(block.samples);
        if (block.count == 0) {
            engine.finish();
        } else {
            engine.push(block);
            begin = begin + SampleCount{static_cast<std::int64_t>(block.count)};
        }
        for (const Update& update : engine.take_updates()) talk.hear(update);
        for (const Command& command : talk.take_commands()) engine.apply(command);
        if (block.count == 0) break;
    }
    return ExitStatus::ok;
}

ExitStatus hear_live(const PlanOptions& options, PlanTalk& talk, const Console& console,
                     const MakeSoundPorts& make_sound_ports)
{
    const InterruptWatch watch;
    LiveCoach coach{make_sound_ports(), {}};
    if (options.recording) {
        coach.start(PlayRecording{*options.recording});
    } else {
        coach.start();
    }
    bool was_live = false;
    while (!talk.is_over() && !watch.interrupted()) {
        for (const Update& update : coach.take_updates()) {
            const auto* capture = std::get_if<CaptureChanged>(&update);
            was_live = was_live || (capture && capture->state == CaptureState::live);
            talk.hear(update);
            const bool never = capture && !was_live &&
                               (capture->state == CaptureState::no_device ||
                                capture->state == CaptureState::recording_ended);
            if (never) return ExitStatus::trouble;
        }
        for (const Command& command : talk.take_commands()) coach.post(command);
        if (console.typed) {
            const TypedLine typed = console.typed();
            if (typed.kind == TypedLine::Kind::line) talk.type(typed.text);
        }
        std::this_thread::sleep_for(kLook);
    }
    coach.stop();  // what is under way ends here, and is kept
    if (!talk.is_over())
        for (const Update& update : coach.take_updates()) talk.hear(update);
    return ExitStatus::ok;
}

// ---- after -------------------------------------------------------------------------------------

std::optional<SelfRating> asked_after(const Console& console, const InterruptWatch& watch)
{
    const auto effort = ask_scale(console, watch, kEffortRating);
    if (!effort) return std::nullopt;
    const auto discomfort = ask_scale(console, watch, kDiscomfortRating);
    if (!discomfort) return std::nullopt;
    return SelfRating{.effort = *effort, .discomfort = *discomfort};
}

void say_what_it_came_to(Office& office, const Practice& practice, const Console& console)
{
    const Answer answer = office.answer(OpenClient{practice.client});
    const auto* opened = std::get_if<ClientOpened>(&answer);
    if (opened == nullptr) return;
    for (const std::string& line : words_after(opened->file, practice)) say(console, line);
}

void close(Office& office, Practice practice, const Console& console)
{
    if (!practice.trials.empty()) {
        const InterruptWatch watch;
        practice.rating = asked_after(console, watch);
    }
    const Answer answer = office.answer(ClosePractice{practice});
    if (practice.rating) say(console, advice_after(*practice.rating));
    if (practice.completion == Completion::stopped_for_discomfort)
        say(console, advice_on_discomfort());
    say_what_it_came_to(office, practice, console);
    if (const auto* refused = std::get_if<Refused>(&answer)) say(console, refused->sentence);
    if (const auto* closed = std::get_if<PracticeClosed>(&answer);
        closed != nullptr && !closed->notice.empty())
        say(console, closed->notice);
}

void say_opening(const Plan& plan, const Console& console)
{
    say(console, fmt::format("Holdwell. {}: {} trials.", plan.title, trials_of(plan).size()));
    if (!plan.words_for_client.empty()) say(console, plan.words_for_client);
    if (plan.goal)
        say(console,
            fmt::format("The goal of each hold is {}, softly.", seconds_in_words(plan.goal->hold)));
    if (console.typed)
        say(console, "It goes on by itself. With Enter after it: p pauses, n skips, a is once "
                     "more, q stops early.");
}

// The answers beforehand; a status when it is not to be begun.
struct Opened {
    std::optional<Beginning> beginning{};
    ExitStatus status{ExitStatus::ok};
};

Opened open_practice(const PlanOptions& options, Office& office, const Console& console)
{
    const Answer answer = office.answer(LoadHome{});
    const auto* home = std::get_if<HomeLoaded>(&answer);
    if (home == nullptr) return {{}, trouble(console, "the records cannot be opened")};
    if (!home->notice.empty()) say(console, home->notice);
    const Result<Plan> plan = plan_of(options, home->file);
    if (!plan) return {{}, trouble(console, plan.error().message)};
    say_opening(plan.value(), console);
    if (home->unfinished && options.plan == kHomePlan) {
        const Practice& open = *home->unfinished;
        say(console, fmt::format("You stopped part of the way today: {} of {} are kept. It goes on "
                                 "after them.",
                                 open.trials.size(), open.trials_asked));
        return {Beginning{home->file.client, plan.value(), open}, ExitStatus::ok};
    }
    const int done = practices_on(home->file.practices, home->today);
    if (const auto advice = advice_on_number(plan.value(), done)) say(console, *advice);

    const InterruptWatch watch;
    BeforePractice before;
    if (options.fitness == Fitness::to_be_asked) {
        const auto answers = asked_before(console, watch);
        if (!answers)
            return {{},
                    trouble(console, "the questions before a practice were not answered; "
                                     "answer them, or say --fit when none of them applies")};
        before = *answers;
    }
    const Practice practice = new_practice(home->file.client, plan.value(), before);
    if (const auto advice = advice_before(before)) {
        say(console, *advice);
        note_that_not_today(office, practice);
        return {};
    }
    const auto made = begun(office, practice);
    if (!made) return {{}, trouble(console, made.error().message)};
    return {Beginning{home->file.client, plan.value(), made.value()}, ExitStatus::ok};
}

}  // namespace

ExitStatus coach_plan(const PlanOptions& options, const Console& console,
                      const MakeSoundPorts& make_sound_ports)
{
    OfficeSettings settings = usual_settings();
    if (options.data) settings.data_folder = *options.data;
    Office office{std::move(settings)};
    if (options.pace == Pace::real_time && !make_sound_ports)
        return trouble(console, "this copy was built without sound");
    const Soundness recording =
        options.recording ? look_through(*options.recording, console) : Soundness::whole;
    if (recording == Soundness::unusable) return ExitStatus::trouble;
    const Opened opened = open_practice(options, office, console);
    if (!opened.beginning) return opened.status;
    PlanTalk talk{guided(options, *opened.beginning), opened.beginning->practice, office, console};
    talk.begin();
    const ExitStatus heard = options.pace == Pace::fast
                                 ? hear_at_once(*options.recording, talk, console)
                                 : hear_live(options, talk, console, make_sound_ports);
    if (!talk.is_over()) talk.stop();
    keep_sound_check(talk.sound_memory());
    close(office, talk.practice(), console);
    return status_after(recording, heard);
}

}  // namespace holdwell
