#pragma once
// Steps by which a plan is changed on the plan page, each kept inside the plan's ranges.

#include <cstddef>
#include <string>
#include <vector>

#include "app/practice/plan.h"

namespace holdwell {

// Notes of that set; own notes stay as they are.
void choose_voice(Plan& plan, VoiceSet set);
void step_warm_up(Plan& plan, int semitones);  // other notes than a set's are the client's own
// "C4 D4 E4 F4 G4"; false, and nothing changed, when a word is no note.
enum class LadderTyped { taken, not_notes };
LadderTyped type_ladder(Plan& plan, const std::string& text);

// Below 1 s there is none.
void step_goal(Plan& plan, int by, Date today);
void step_band(Plan& plan, int by);             // 10 cents
void step_bridge(Plan& plan, int by);           // 50 ms
void step_rest(Plan& plan, int by);             // 5 s
void step_practices_a_day(Plan& plan, int by);  // the most a day goes along
void step_most_practices(Plan& plan, int by);
void step_weeks(Plan& plan, int by);
void step_keep_days(Plan& plan, int by);  // 7 days
void step_taper_step(Plan& plan, int by);
void step_met_on_days(Plan& plan, int by);
void step_keep_share(Plan& plan, int by);  // 5 %

// Drills of the plan or of a step of its taper. An index beyond the list changes nothing; the last
// drill cannot be taken out.
using DrillList = std::vector<PlannedDrill>;
void step_repetitions(DrillList& drills, std::size_t at, int by);
std::size_t move_drill(DrillList& drills, std::size_t at, int by);  // where it stands then
void remove_drill(DrillList& drills, std::size_t at);
void add_drill(DrillList& drills, DrillKind kind);

void add_taper_step(Plan& plan);  // like the last one, at half of its practices
void remove_taper_step(Plan& plan, std::size_t at);
void step_practices_a_week(TaperStep& step, int by);
void step_days(TaperStep& step, int by);

// Drills that a model may be sung for: each hold on its note, and the glides; each once.
std::vector<ModelVoice> models_wanted(const Plan& plan);
const ModelVoice* find_model(const Plan& plan, const ModelVoice& of);
void keep_model(Plan& plan, const ModelVoice& model);
void remove_model(Plan& plan, const ModelVoice& of);

// The template in place of what is there: the plan's id and revision, the goal, and models of
// drills that are asked for still, stay.
Plan begun_from(const Plan& from_template, const Plan& now);

}  // namespace holdwell
