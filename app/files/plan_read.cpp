// From JSON to a plan. What a field may be is said twice: its type here, its range by faults_of().

#include <algorithm>
#include <string_view>
#include <utility>

#include "app/files/plan_file.h"
#include "app/files/plan_json.h"
#include "app/files/plan_names.h"

namespace holdwell {
namespace {

constexpr std::string_view kKindMayBe{"a drill, such as \"warm_up_hold\""};

VoiceNotes voice_from(ObjectReader& plan)
{
    VoiceNotes voice;
    const Json* value = plan.object("voice");
    if (value == nullptr) return voice;
    ObjectReader reader{*value, field_of(plan.place(), "voice"), plan.log()};
    voice = notes_of(reader.choice("set", kVoiceSetNames, VoiceSet::higher));
    voice.warm_up = reader.note("warm_up", voice.warm_up);
    if (const Json* ladder = reader.list("ladder")) {
        voice.ladder.clear();
        const std::string place = field_of(reader.place(), "ladder");
        for (std::size_t i = 0; i < ladder->size(); ++i) {
            const auto note = note_in((*ladder)[i]);
            if (!note) plan.log().add(item_of(place, i), (*ladder)[i], "a note such as \"F4\"");
            voice.ladder.push_back(note.value_or(Note{}));
        }
    }
    reader.refuse_unknown();
    return voice;
}

std::vector<PlannedDrill> drills_from(ObjectReader& owner, std::vector<PlannedDrill> usual)
{
    const Json* list = owner.list("drills");
    if (list == nullptr) return usual;
    std::vector<PlannedDrill> drills;
    for (std::size_t i = 0; i < list->size(); ++i) {
        const std::string place = item_of(field_of(owner.place(), "drills"), i);
        ObjectReader reader{(*list)[i], place, owner.log()};
        reader.require("kind", kKindMayBe);
        PlannedDrill drill;
        drill.kind = reader.choice("kind", kDrillKindNames, drill.kind);
        drill.repetitions = reader.integer("repetitions", drill.repetitions);
        reader.refuse_unknown();
        drills.push_back(drill);
    }
    return drills;
}

std::optional<Goal> goal_from(ObjectReader& plan)
{
    const Json* value = plan.object("goal");
    if (value == nullptr) return std::nullopt;
    ObjectReader reader{*value, field_of(plan.place(), "goal"), plan.log()};
    Goal goal;
    reader.require("hold_s", "1 to 120, in seconds");
    goal.hold = reader.seconds("hold_s", goal.hold);
    goal.origin = reader.choice("origin", kGoalOriginNames, goal.origin);
    goal.set_on = reader.date("set_on");
    goal.reasoning = reader.text("reasoning", goal.reasoning);
    reader.refuse_unknown();
    return goal;
}

TaperStep step_from(const Json& value, const std::string& place, FaultLog& log)
{
    ObjectReader reader{value, place, log};
    TaperStep step;
    reader.require("name", "text in quotation marks");
    reader.require("drills", "a list, in brackets");
    step.name = reader.text("name", step.name);
    step.drills = drills_from(reader, step.drills);
    step.practices_a_week = reader.integer("practices_a_week", step.practices_a_week);
    step.days = reader.integer("days", step.days);
    reader.refuse_unknown();
    return step;
}

Taper taper_from(ObjectReader& plan)
{
    Taper taper;
    const Json* value = plan.object("taper");
    if (value == nullptr) return taper;
    ObjectReader reader{*value, field_of(plan.place(), "taper"), plan.log()};
    taper.met_on_days = reader.integer("met_on_days", taper.met_on_days);
    taper.keep_share = reader.number("keep_share", taper.keep_share);
    if (const Json* steps = reader.list("steps")) {
        const std::string place = field_of(reader.place(), "steps");
        for (std::size_t i = 0; i < steps->size(); ++i)
            taper.steps.push_back(step_from((*steps)[i], item_of(place, i), plan.log()));
    }
    reader.refuse_unknown();
    return taper;
}

std::vector<ModelVoice> models_from(ObjectReader& plan)
{
    std::vector<ModelVoice> models;
    const Json* list = plan.list("models");
    for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
        const std::string place = item_of(field_of(plan.place(), "models"), i);
        ObjectReader reader{(*list)[i], place, plan.log()};
        reader.require("kind", kKindMayBe);
        ModelVoice model;
        model.kind = reader.choice("kind", kDrillKindNames, model.kind);
        model.note = reader.note_or_none("note");
        reader.require("flac_base64", "a FLAC recording of up to 15 s, as base64 text");
        model.flac = reader.base64("flac_base64");
        reader.refuse_unknown();
        models.push_back(std::move(model));
    }
    return models;
}

void read_head(ObjectReader& reader, Plan& plan)
{
    plan.id.text = reader.text("id", {});
    plan.revision = reader.integer("revision", plan.revision);
    plan.title = reader.text("title", plan.title);
    plan.written = reader.date("written");
    plan.words_for_client = reader.text("words_for_client", {});
}

void read_dose(ObjectReader& reader, Plan& plan)
{
    plan.voice = voice_from(reader);
    plan.drills = drills_from(reader, plan.drills);
    plan.practices_a_day = reader.integer("practices_a_day", plan.practices_a_day);
    plan.most_practices_a_day =
        reader.integer("most_practices_a_day", std::max(plan.practices_a_day, 2));
    plan.weeks = reader.integer("weeks", plan.weeks);
    plan.rest = reader.seconds("rest_s", plan.rest);
}

void read_judging(ObjectReader& reader, Plan& plan)
{
    plan.band = Cents{reader.number("band_cents", plan.band.value)};
    plan.counts = reader.choice("hold_counts", kHoldCountsNames, plan.counts);
    plan.bridge = reader.seconds("bridge_s", plan.bridge);
    plan.goal = goal_from(reader);
    plan.cue = reader.choice("cue", kNoteCueNames, plan.cue);
    plan.pitch_line = reader.choice("pitch_line", kPitchLineNames, plan.pitch_line);
}

Plan fields_from(ObjectReader& reader)
{
    Plan plan;
    read_head(reader, plan);
    read_dose(reader, plan);
    read_judging(reader, plan);
    plan.keeps = reader.choice("keeps", kKeepsNames, plan.keeps);
    plan.keep_audio_days = reader.integer("keep_audio_days", plan.keep_audio_days);
    plan.taper = taper_from(reader);
    plan.taper_step = reader.integer("taper_step", plan.taper_step);
    plan.models = models_from(reader);
    reader.refuse_unknown();
    return plan;
}

// A file that is not for us is refused whole: its fields would only bewilder.
bool is_for_us(ObjectReader& reader)
{
    reader.require("format", "\"holdwell plan\"");
    const std::string format = reader.text("format", kPlanFormat);
    if (format != kPlanFormat)
        reader.log().add(field_of(reader.place(), "format"), Json(format), "\"holdwell plan\"");
    if (!reader.log().empty()) return false;
    reader.require("version", "1");
    if (!reader.log().empty()) return false;
    const int version = reader.integer("version", 0);
    if (version == kPlanFileVersion) return true;
    const std::string place = field_of(reader.place(), "version");
    if (version > kPlanFileVersion)
        reader.log().add(place, "It is " + std::to_string(version) +
                                    ": a later Holdwell wrote this plan, and a later one is "
                                    "needed to read it.");
    else if (!reader.log().touches(place))
        reader.log().add(place, Json(version), "1");
    return false;
}

}  // namespace

PlanFromJson plan_from(const Json& value, const std::string& place)
{
    FaultLog log;
    ObjectReader reader{value, place, log};
    if (!log.empty() || !is_for_us(reader)) return {.plan = {}, .faults = log.take()};
    PlanFromJson read{.plan = fields_from(reader), .faults = {}};
    // A field that could not be read holds its usual value: what follows from that is no fault of
    // the file's.
    FaultLog ranges;
    for (Fault& fault : faults_of(read.plan)) {
        std::string at = field_of(place, fault.place);
        if (!log.touches(at)) ranges.add(std::move(at), std::move(fault.sentence));
    }
    read.faults = log.take();
    for (Fault& fault : ranges.take()) read.faults.push_back(std::move(fault));
    return read;
}

}  // namespace holdwell
