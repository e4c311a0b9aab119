#include "tests/support/demo/demo_weeks.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "app/practice/taper.h"
#include "dsp/listener.h"
#include "dsp/tuning.h"
#include "tests/support/demo/demo_stories.h"
#include "tests/support/random.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

namespace {

constexpr SampleRate kRate{48'000.0};

class Telling {
public:
    explicit Telling(const Story& story) : story_{story}, random_{story.seed} {}

    ClientFile told()
    {
        const Date first = day_after(kDemoToday, std::chrono::days{1 - story_.days});
        ClientFile file;
        file.client = {.id = new_id(),
                       .code = std::string{story_.code},
                       .since = day_after(first, std::chrono::days{-1}),
                       .onset_baseline = {}};
        file.plans.push_back(first_plan(file.client.since));
        file.practices.push_back(baseline(file));
        for (int day = 0; day < story_.days - story_.silent_days; ++day) {
            for (int turn = 0; turn < 2; ++turn) add_practice(file, day, turn);
        }
        return file;
    }

private:
    Id new_id()
    {
        constexpr std::string_view kDigits = "0123456789abcdef";
        std::string text;
        for (int i = 0; i < 32; ++i) text += kDigits[static_cast<std::size_t>(random_.below(16))];
        return {text};
    }

    Plan first_plan(Date day)
    {
        Plan plan;
        plan.id = new_id();
        plan.title = "Daily practice";
        plan.written = day;
        plan.words_for_client = "Quiet and easy. Lips almost closed in the glides.";
        plan.voice = notes_of(story_.voice);
        plan.weeks = 8;
        plan.goal = Goal{.hold = Seconds{std::floor(story_.s_time.count() - 1.0)},
                         .origin = GoalOrigin::s_baseline,
                         .set_on = day,
                         .reasoning = "A little under the longest of three quiet /s/."};
        plan.taper = usual_taper(plan.drills);
        return plan;
    }

    // 0 on the first day, 1 on the last.
    double course(int day) const { return static_cast<double>(day) / std::max(1, story_.days - 1); }
    double between(double first, double last, int day) const
    {
        // Quick at first, slower later, as practice goes.
        return first + (last - first) * std::pow(course(day), 0.75);
    }
    bool is_among(const std::vector<int>& days, int day) const
    {
        return std::ranges::find(days, day) != days.end();
    }

    Practice begun(const ClientFile& file, Date day, std::chrono::minutes time)
    {
        Practice p;
        p.id = new_id();
        p.client = file.client.id;
        p.plan = file.plans.back().id;
        p.plan_revision = file.plans.back().revision;
        p.begun = {day, {time}};
        return p;
    }

    Practice baseline(const ClientFile& file)
    {
        Practice p = begun(file, file.client.since, std::chrono::minutes{10 * 60 + 15});
        p.kind = PracticeKind::in_session;
        p.completion = Completion::complete;
        p.trials_asked = 6;
        for (int i = 0; i < 6; ++i) {
            Trial t;
            t.id = new_id();
            t.number = i + 1;
            t.kind = i < 3 ? DrillKind::s_hold : DrillKind::z_hold;
            t.repetition = i % 3 + 1;
            t.begun = Seconds{20.0 + 45.0 * i};
            const double share = i < 3 ? 1.0 : 0.92;
            const double best = share * story_.s_time.count();
            t.measures = SibilantMeasures{
                .length = rounded(Seconds{i % 3 == 1 ? best : best - random_.uniform(0.8, 3.0)})};
            p.trials.push_back(t);
        }
        return p;
    }

    void add_practice(ClientFile& file, int day, int turn)
    {
        const Date date = day_after(kDemoToday, std::chrono::days{day + 1 - story_.days});
        const int minute = (turn == 0 ? 7 * 60 + 35 : 18 * 60 + 10) + random_.below(50);
        const bool is_kept = random_.uniform(0.0, 1.0) < story_.kept;
        const bool is_ill = is_among(story_.ill, day);
        if (is_ill && turn == 1) return;
        if (day == story_.days - 1 && turn == 1) return;  // today's second is still to come
        if (!is_ill && !is_kept) return;
        Practice p = begun(file, date, std::chrono::minutes{minute});
        const std::vector<PlannedTrial> asked = trials_of(file.plans.back());
        p.trials_asked = static_cast<int>(asked.size());
        if (is_ill) {
            p.before.unwell = true;
            p.completion = Completion::not_today;
            file.practices.push_back(p);
            return;
        }
        p.sound_check = check_on(day);
        const bool stops_early = random_.uniform(0.0, 1.0) < 0.06;
        const bool is_sore = is_among(story_.sore, day);
        const std::size_t done = stops_early ? asked.size() / 2 : asked.size();
        sing(p, {asked.begin(), asked.begin() + static_cast<std::ptrdiff_t>(done)}, day);
        p.completion = stops_early ? Completion::partial : Completion::complete;
        p.rating = SelfRating{
            .effort = std::clamp(
                static_cast<int>(std::lround(between(4.5, 2.0, day) + random_.normal())), 0, 10),
            .discomfort = is_sore ? 3 + random_.below(2) : 0};
        if (is_sore) p.remark = "A little sore this evening.";
        file.practices.push_back(p);
    }

    SoundCheckSummary check_on(int day)
    {
        const bool is_moved = story_.moved && day >= *story_.moved;
        return {.room = {-61.0 + random_.normal()},
                .voice = {(is_moved ? -31.0 : -25.0) + random_.normal()},
                .sample_rate = kRate,
                .fingerprint =
                    is_moved ? "Headset microphone, 48000 Hz" : "Desk microphone, 48000 Hz"};
    }

    void sing(Practice& p, const std::vector<PlannedTrial>& asked, int day)
    {
        Seconds at{30.0};
        for (const PlannedTrial& planned : asked) {
            Trial t;
            t.id = new_id();
            t.number = static_cast<int>(p.trials.size()) + 1;
            t.kind = planned.drill.kind;
            t.repetition = planned.repetition;
            t.band = planned.drill.band;
            t.begun = rounded(at);
            const bool is_glide =
                t.kind == DrillKind::rising_glide || t.kind == DrillKind::falling_glide;
            if (!is_glide) {
                t.target = planned.drill.target;
                t.goal = planned.drill.goal;
            }
            // The first trial of every practice, and one glide a day, are really sung and heard.
            const bool is_sung = t.number == 1 || (t.number == 3 && day % 2 == 0);
            t.measures = is_glide ? glide_on(day, t.kind, is_sung) : hold_on(day, t, is_sung);
            const auto* hold = std::get_if<HoldMeasures>(&t.measures);
            at += hold != nullptr ? hold->hold_time + Seconds{22.0} : Seconds{14.0};
            p.trials.push_back(t);
        }
    }

    static Seconds rounded(Seconds s) { return Seconds{std::round(s.count() * 100.0) / 100.0}; }

    // What the voice does in one hold; sung or drawn, it is the same voice.
    struct Holding {
        Seconds length;
        Cents deviation;
        Cents wander;
        OnsetClass onset;
    };

    Holding holding_on(int day, Note target)
    {
        // Higher notes are held a little shorter.
        const double height = target.midi % 12 * 0.08;
        const double mean = between(story_.first_hold.count(), story_.last_hold.count(), day);
        const double length = mean * (1.0 - 0.02 * height) + 1.1 * random_.normal();
        const double hard = story_.hard_share * (1.0 - course(day));
        const double draw = random_.uniform(0.0, 1.0);
        const OnsetClass onset = draw < hard          ? OnsetClass::hard
                                 : draw < hard + 0.08 ? OnsetClass::breathy
                                 : draw < hard + 0.16 ? OnsetClass::unsure
                                                      : OnsetClass::easy;
        return {.length = Seconds{std::max(2.5, length)},
                .deviation = {between(-34.0, -9.0, day) + 18.0 * random_.normal()},
                .wander = {between(26.0, 14.0, day)},
                .onset = onset};
    }

    Measures hold_on(int day, const Trial& t, bool is_sung)
    {
        const Holding h = holding_on(day, *t.target);
        if (is_sung) {
            if (const auto heard = heard_hold(h, t)) return *heard;
        }
        HoldMeasures m;
        m.hold_time = rounded(h.length);
        const double off = std::abs(h.deviation.value) / t.band.value;
        m.in_band = rounded(h.length * std::clamp(1.25 - 0.5 * off, 0.1, 1.0));
        m.f0_median = transposed(frequency_of(*t.target), h.deviation);
        m.deviation = h.deviation;
        m.f0_sd = h.wander;
        m.interruptions = random_.uniform(0.0, 1.0) < 0.12 ? 1 : 0;
        m.interrupted = m.interruptions * Seconds{0.17};
        m.onset = h.onset;
        m.rise = Seconds{h.onset == OnsetClass::hard ? 0.009 : 0.07 + 0.01 * random_.normal()};
        m.air_lead = Seconds{h.onset == OnsetClass::breathy ? 0.16 : 0.0};
        m.snr = {36.0 + 1.5 * random_.normal()};
        m.loudness = Decibels{-2.0 + 1.2 * random_.normal()};
        return m;
    }

    Voice voice_for(const Holding& h, const Trial& t)
    {
        Voice v;
        v.f0 = drift(transposed(frequency_of(*t.target), h.deviation), h.wander, random_.next());
        v.tract =
            tract_of(Vowel::u, story_.voice == VoiceSet::lower ? Speaker::low : Speaker::high);
        v.jitter_percent = 0.5;
        v.shimmer_percent = 3.0;
        v.hnr = Decibels{20.0};
        v.attack = h.onset == OnsetClass::hard ? Seconds{0.005} : Seconds{0.09};
        v.decay = Seconds{0.2};
        return v;
    }

    std::optional<HoldMeasures> heard_hold(const Holding& h, const Trial& t)
    {
        SignalScript script{kRate, random_.next()};
        script.silence(1s).voice(voice_for(h, t), h.length).silence(1s);
        script.with_noise(NoiseKind::room, Decibels{36.0});
        const Heard heard =
            listen(script.build(),
                   {.sought = Sought::hold, .target = frequency_of(*t.target), .band = t.band});
        if (heard.holds.size() != 1) return std::nullopt;
        return std::get<HoldMeasures>(measures_of(heard.holds.front(), kRate));
    }

    struct Gliding {
        Hertz first, last;
        Seconds length;
        int breaks;
    };

    Gliding gliding_on(int day, DrillKind kind)
    {
        const bool is_low = story_.voice == VoiceSet::lower;
        const Hertz bottom{(is_low ? 98.0 : 175.0) * std::exp2(0.02 * random_.normal())};
        const double semitones = between(17.0, 25.0, day) + random_.normal();
        const Hertz top = transposed(bottom, Cents{100.0 * semitones});
        const double mean = between(story_.breaks_first, story_.breaks_last, day);
        const int breaks =
            std::clamp(static_cast<int>(std::lround(mean + 0.8 * random_.normal())), 0, 6);
        const Seconds length{between(4.5, 7.5, day) + 0.5 * random_.normal()};
        if (kind == DrillKind::rising_glide) return {bottom, top, length, breaks};
        return {top, bottom, length, breaks};
    }

    Measures glide_on(int day, DrillKind kind, bool is_sung)
    {
        const Gliding g = gliding_on(day, kind);
        if (is_sung) {
            if (const auto heard = heard_glide(g, kind)) return *heard;
        }
        GlideMeasures m;
        m.direction = kind == DrillKind::rising_glide ? GlideDirection::up : GlideDirection::down;
        m.length = rounded(g.length);
        m.lowest = std::min(g.first, g.last);
        m.highest = std::max(g.first, g.last);
        m.jumps = g.breaks / 2;
        m.gaps = g.breaks - m.jumps;
        if (m.jumps > 0) m.largest_jump = Semitones{6.0 + 1.2 * random_.normal()};
        m.fry = Seconds{kind == DrillKind::falling_glide && day < 10 ? 0.4 : 0.0};
        m.smoothness = std::clamp(between(0.86, 0.95, day) + 0.02 * random_.normal(), 0.0, 1.0);
        return m;
    }

    std::optional<GlideMeasures> heard_glide(const Gliding& g, DrillKind kind)
    {
        Voice v;
        v.f0 = glide(g.first, g.last, g.length);
        v.tract = tract_of(Vowel::u, Speaker::high);
        v.jitter_percent = 0.5;
        v.shimmer_percent = 3.0;
        v.hnr = Decibels{20.0};
        v.attack = v.decay = Seconds{0.08};
        for (int i = 0; i < g.breaks; ++i) {
            v.gaps.push_back({(i + 1.0) / (g.breaks + 1.0) * g.length, Seconds{0.12}});
        }
        SignalScript script{kRate, random_.next()};
        script.silence(1s).voice(v, g.length).silence(1s);
        script.with_noise(NoiseKind::room, Decibels{36.0});
        const Heard heard = listen(
            script.build(),
            {.sought = kind == DrillKind::rising_glide ? Sought::glide_up : Sought::glide_down});
        if (heard.glides.size() != 1) return std::nullopt;
        return std::get<GlideMeasures>(measures_of(heard.glides.front(), kRate));
    }

    static Heard listen(const ScriptedTake& take, const ListeningTask& task)
    {
        AnalysisConfig config;
        config.sample_rate = take.rate;
        Listener listener{config, task};
        listener.push(take.samples);
        listener.finish();
        return listener.take_finished();
    }

    const Story& story_;
    Random random_;
};

}  // namespace

std::vector<std::string_view> demo_client_files()
{
    std::vector<std::string_view> files;
    for (const Story& story : demo_stories()) files.push_back(story.file);
    return files;
}

DemoClient demo_client(std::string_view file)
{
    const std::vector<Story> all = demo_stories();
    const auto story = std::ranges::find(all, file, &Story::file);
    return {story->file, story->told, Telling{*story}.told()};
}

}  // namespace holdwell::test
