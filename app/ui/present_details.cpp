// One level deeper: the numbers behind the words, for the therapist.

#include <fmt/format.h>

#include "app/ui/present.h"
#include "app/ui/present_ear.h"

namespace holdwell {
namespace {

std::string decibels(Decibels d) { return signed_number(d.value) + " dB"; }
std::string dbfs(Dbfs level) { return signed_number(level.value) + " dBFS"; }
std::string hertz(Hertz f) { return fmt::format("{:.2f} Hz", f.value); }
std::string milliseconds(Seconds s) { return fmt::format("{:.0f} ms", s.count() * 1000.0); }
std::string seconds(Seconds s) { return fmt::format("{:.2f} s", s.count()); }

template <typename Value, typename Words>
std::string told(const std::optional<Value>& value, Words words)
{
    return value ? words(*value) : std::string{"not known"};
}

FigureGroup now_of(const Model& model)
{
    FigureGroup group{"Now", {}};
    if (!model.reading) return group;
    const FrameReading& r = *model.reading;
    const Hertz target = frequency_of(model.drill.target);
    group.figures = {
        {"f0", r.f0 ? hertz(*r.f0) : "no voice"},
        {"deviation", r.f0 ? signed_cents(interval_between(target, *r.f0)) : "no voice"},
        {"level", dbfs(r.level)},
        {"over the room", decibels(r.level - r.noise_floor)},
    };
    return group;
}

// Beside the comfortable voice; in dB SPL only after a calibration.
void add_loudness(FigureGroup& group, const FinishedHold& finished, const Model& model)
{
    const auto plus = [](Decibels d) {
        return fmt::format("{}{}", d.value > 0.0 ? "+" : "", decibels(d));
    };
    group.figures.push_back(
        {"beside the comfortable voice", told(finished.over_comfortable, plus)});
    if (const auto calibration = calibration_of(model)) {
        group.figures.push_back({"sound pressure", spl_words(*calibration, finished.hold.level)});
    }
}

FigureGroup hold_of(const FinishedHold& finished, const Model& model)
{
    const Hold& h = finished.hold;
    FigureGroup group{"Last hold", {}};
    group.figures = {
        {"hold time", seconds(finished.length)},
        {"ended by", end_words(h.ended_by)},
        {"f0, median", told(h.f0_median, hertz)},
        {"deviation", told(h.deviation, signed_cents)},
        {"f0, standard deviation",
         told(h.f0_sd, [](Cents c) { return fmt::format("{:.1f} cents", c.value); })},
        {"time in band", told(h.in_band, seconds)},
        {"level, median", dbfs(h.level)},
        {"over the room, median", decibels(h.snr)},
    };
    add_loudness(group, finished, model);
    if (h.doubt) group.figures.push_back({"in doubt", doubt_words(*h.doubt)});
    if (h.like_a_machine) group.figures.push_back({"pitch", kLikeAMachine});
    if (h.octaves_off != 0) group.figures.push_back({"octave", octave_words(h.octaves_off)});
    if (h.fry > Seconds{0.0}) group.figures.push_back({"fry", seconds(h.fry)});
    if (h.has_gap) group.figures.push_back({"samples lost", "inside this hold: not a best"});
    return group;
}

FigureGroup start_of(const Onset& onset)
{
    const std::string words = onset_words(onset);
    FigureGroup group{"Start", {}};
    group.figures = {{"named", words.empty() ? "not sure" : words},
                     {"because", onset.reason.empty() ? "no reason given" : onset.reason},
                     {"rise, 10 to 90 %", told(onset.rise, milliseconds)},
                     {"air before the voice", told(onset.air_lead, milliseconds)}};
    return group;
}

FigureGroup interruptions_of(const FinishedHold& finished, const std::vector<Seconds>& middles)
{
    FigureGroup group{"Interruptions", {}};
    const auto& gaps = finished.hold.interruptions;
    for (std::size_t i = 0; i < gaps.size() && i < middles.size(); ++i) {
        group.figures.push_back(
            {"at " + seconds(middles[i] - gaps[i].duration / 2.0), milliseconds(gaps[i].duration)});
    }
    if (gaps.empty()) group.figures.push_back({"none", ""});
    return group;
}

FigureGroup quality_of(const Quality& q)
{
    return {"Voice quality, steady part",
            {{"jitter, local", fmt::format("{:.2f} %", q.jitter_percent)},
             {"shimmer, local", fmt::format("{:.1f} %", q.shimmer_percent)},
             {"harmonics to noise", decibels(q.hnr)},
             {"cepstral peak prominence", decibels(q.cpps)}}};
}

FigureGroup glide_of(const Glide& g)
{
    FigureGroup group{"Last glide", {}};
    group.figures = {{"lowest", told(g.lowest, hertz)}, {"highest", told(g.highest, hertz)}};
    if (g.lowest && g.highest) {
        const double range = semitones_between(*g.lowest, *g.highest).value;
        group.figures.push_back({"range", fmt::format("{:.1f} semitones", range)});
    }
    group.figures.push_back({"breaks", fmt::format("{}", g.breaks.size())});
    group.figures.push_back({"fry", seconds(g.fry)});
    group.figures.push_back({"smoothness", fmt::format("{:.2f}", g.smoothness)});
    return group;
}

FigureGroup capture_of(const Model& model)
{
    const Capture& c = model.capture;
    FigureGroup group{"Microphone", {}};
    group.figures = {{"name", c.device.empty() ? "not known" : c.device},
                     {"sample rate", fmt::format("{:.0f} Hz", c.rate.hz)},
                     {"samples lost", fmt::format("{}", c.lost.value)},
                     {"set-up", setup_fingerprint(setup_of(model), model.preferences.spl)}};
    if (model.ear.processing) {
        group.figures.push_back({"processing", reason_for(*model.ear.processing)});
    }
    if (model.reading) group.figures.push_back({"room", dbfs(model.reading->noise_floor)});
    if (model.sound_check && model.sound_check->a_weighted_room) {
        group.figures.push_back({"room, A-weighted", dbfs(*model.sound_check->a_weighted_room)});
    }
    return group;
}

}  // namespace

DetailsView present_details(const Model& model)
{
    DetailsView view;
    view.title = "Numbers";
    view.lead = fmt::format("{}, {}, near enough \u00b1 {:.0f} cents", name_of(model.drill.kind),
                            name_of(model.drill.target, Spelling::display), model.drill.band.value);
    if (!has_target(model.drill.kind)) view.lead = name_of(model.drill.kind);
    view.groups.push_back(now_of(model));
    if (model.last && model.last->hold) {
        const FinishedHold& finished = *model.last->hold;
        view.groups.push_back(hold_of(finished, model));
        view.groups.push_back(start_of(finished.hold.start));
        view.groups.push_back(interruptions_of(finished, model.last->interruptions_at));
        if (finished.hold.quality) view.groups.push_back(quality_of(*finished.hold.quality));
    }
    if (model.last && model.last->glide) view.groups.push_back(glide_of(*model.last->glide));
    view.groups.push_back(capture_of(model));
    view.keys = {{"D", "back", Action::back},
                 {"L", "name the starts", Action::open_starts},
                 {"M", "level in dB SPL", Action::open_calibration},
                 {"F1", "help", Action::open_help}};
    return view;
}

}  // namespace holdwell
