#include "app/files/plan_json.h"

#include <cmath>

#include "app/files/base64.h"
#include "app/files/plan_file.h"
#include "app/files/plan_names.h"

namespace holdwell {
namespace {

Json json_of(const VoiceNotes& voice)
{
    Json ladder = Json::array();
    for (const Note note : voice.ladder) ladder.push_back(name_of(note));
    return {{"set", name_in(kVoiceSetNames, voice.set)},
            {"warm_up", name_of(voice.warm_up)},
            {"ladder", std::move(ladder)}};
}

Json json_of(const std::vector<PlannedDrill>& drills)
{
    Json list = Json::array();
    for (const PlannedDrill& drill : drills)
        list.push_back(
            {{"kind", name_in(kDrillKindNames, drill.kind)}, {"repetitions", drill.repetitions}});
    return list;
}

// 15 rather than 15.0: as a person would write it.
Json plain_number(double value)
{
    const bool is_whole = value == std::round(value) && std::abs(value) < 1e9;
    return is_whole ? Json(std::llround(value)) : Json(value);
}

// A day that is not known yet is left out.
void add_date(Json& object, const char* key, Date date)
{
    if (date != Date{}) object[key] = text_of(date);
}

Json json_of(const std::optional<Goal>& goal)
{
    if (!goal) return nullptr;
    Json object{{"hold_s", plain_number(goal->hold.count())},
                {"origin", name_in(kGoalOriginNames, goal->origin)}};
    add_date(object, "set_on", goal->set_on);
    object["reasoning"] = goal->reasoning;
    return object;
}

Json json_of(const Taper& taper)
{
    Json steps = Json::array();
    for (const TaperStep& step : taper.steps)
        steps.push_back({{"name", step.name},
                         {"drills", json_of(step.drills)},
                         {"practices_a_week", step.practices_a_week},
                         {"days", step.days}});
    return {{"met_on_days", taper.met_on_days},
            {"keep_share", plain_number(taper.keep_share)},
            {"steps", std::move(steps)}};
}

Json json_of(const std::vector<ModelVoice>& models)
{
    Json list = Json::array();
    for (const ModelVoice& model : models) {
        Json object{{"kind", name_in(kDrillKindNames, model.kind)}};
        if (model.note) object["note"] = name_of(*model.note);
        object["flac_base64"] = to_base64(model.flac);
        list.push_back(std::move(object));
    }
    return list;
}

void add_head(Json& object, const Plan& plan)
{
    object["format"] = kPlanFormat;
    object["version"] = kPlanFileVersion;
    if (!plan.id.text.empty()) object["id"] = plan.id.text;
    object["revision"] = plan.revision;
    object["title"] = plan.title;
    add_date(object, "written", plan.written);
    object["words_for_client"] = plan.words_for_client;
}

void add_dose(Json& object, const Plan& plan)
{
    object["voice"] = json_of(plan.voice);
    object["drills"] = json_of(plan.drills);
    object["practices_a_day"] = plan.practices_a_day;
    object["most_practices_a_day"] = plan.most_practices_a_day;
    object["weeks"] = plan.weeks;
    object["rest_s"] = plain_number(plan.rest.count());
}

void add_judging(Json& object, const Plan& plan)
{
    object["band_cents"] = plain_number(plan.band.value);
    object["hold_counts"] = name_in(kHoldCountsNames, plan.counts);
    object["bridge_s"] = plain_number(plan.bridge.count());
    object["goal"] = json_of(plan.goal);
    object["cue"] = name_in(kNoteCueNames, plan.cue);
    object["pitch_line"] = name_in(kPitchLineNames, plan.pitch_line);
}

}  // namespace

Json json_of(const Plan& plan)
{
    Json object = Json::object();
    add_head(object, plan);
    add_dose(object, plan);
    add_judging(object, plan);
    object["keeps"] = name_in(kKeepsNames, plan.keeps);
    object["keep_audio_days"] = plan.keep_audio_days;
    object["taper"] = json_of(plan.taper);
    object["taper_step"] = plan.taper_step;
    object["models"] = json_of(plan.models);
    return object;
}

}  // namespace holdwell
