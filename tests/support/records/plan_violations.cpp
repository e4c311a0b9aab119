#include <string>

#include "tests/support/records/plan_examples.h"

namespace holdwell::test {

std::vector<Violation> violations()
{
    const std::string letters_81(81, 'a');
    const std::string letters_601(601, 'a');
    constexpr auto cannot = Schema::cannot_know;
    return {
        {"id", [](Plan& p) { p.id.text = "0123"; }},
        {"id", [](Plan& p) { p.id.text[0] = 'A'; }},
        {"revision", [](Plan& p) { p.revision = 0; }},
        {"title", [](Plan& p) { p.title.clear(); }},
        {"title", [=](Plan& p) { p.title = letters_81; }},
        {"title", [](Plan& p) { p.title = "two\nlines"; }},
        {"words_for_client", [=](Plan& p) { p.words_for_client = letters_601; }},
        {"words_for_client", [](Plan& p) { p.words_for_client = "a\tb"; }},
        {"voice.warm_up", [](Plan& p) { p.voice.warm_up = Note{35}; }},
        {"voice.warm_up", [](Plan& p) { p.voice.warm_up = Note{85}; }},
        {"voice.ladder", [](Plan& p) { p.voice.ladder.clear(); }},
        {"voice.ladder",
         [](Plan& p) {
             p.voice.ladder.clear();
             for (int i = 0; i < 9; ++i) p.voice.ladder.push_back(Note{60 + i});
         }},
        {"voice.ladder[4]", [](Plan& p) { p.voice.ladder[4] = Note{85}; }},
        {"voice.ladder[1]", [](Plan& p) { p.voice.ladder[1] = Note{60}; }, cannot},
        {"voice.set",
         [](Plan& p) {
             p.voice = notes_of(VoiceSet::lower);
             p.voice.warm_up = kF4;
         }},
        {"voice.set",
         [](Plan& p) {
             p.voice = notes_of(VoiceSet::higher);
             p.voice.ladder.pop_back();
         }},
        {"drills", [](Plan& p) { p.drills.clear(); }},
        {"drills", [](Plan& p) { p.drills.resize(13); }},
        {"drills[2].repetitions", [](Plan& p) { p.drills[2].repetitions = 0; }},
        {"drills[2].repetitions", [](Plan& p) { p.drills[2].repetitions = 11; }},
        {"practices_a_day", [](Plan& p) { p.practices_a_day = 0; }},
        {"most_practices_a_day", [](Plan& p) { p.most_practices_a_day = 1; }, cannot},
        {"most_practices_a_day", [](Plan& p) { p.most_practices_a_day = 9; }},
        {"weeks", [](Plan& p) { p.weeks = 0; }},
        {"weeks", [](Plan& p) { p.weeks = 27; }},
        {"rest_s", [](Plan& p) { p.rest = Seconds{14.9}; }},
        {"rest_s", [](Plan& p) { p.rest = Seconds{600.1}; }},
        {"band_cents", [](Plan& p) { p.band = Cents{9.9}; }},
        {"band_cents", [](Plan& p) { p.band = Cents{300.1}; }},
        {"bridge_s", [](Plan& p) { p.bridge = Seconds{0.099}; }},
        {"bridge_s", [](Plan& p) { p.bridge = Seconds{0.501}; }},
        {"goal.hold_s", [](Plan& p) { p.goal->hold = Seconds{0.9}; }},
        {"goal.hold_s", [](Plan& p) { p.goal->hold = Seconds{120.1}; }},
        {"goal.reasoning", [=](Plan& p) { p.goal->reasoning = letters_601; }},
        {"keep_audio_days", [](Plan& p) { p.keep_audio_days = 0; }},
        {"keep_audio_days", [](Plan& p) { p.keep_audio_days = 366; }},
        {"taper.steps", [](Plan& p) { p.taper.steps.resize(13, p.taper.steps[0]); }},
        {"taper.steps[1].name", [](Plan& p) { p.taper.steps[1].name.clear(); }},
        {"taper.steps[1].name", [=](Plan& p) { p.taper.steps[1].name = letters_81; }},
        {"taper.steps[1].drills", [](Plan& p) { p.taper.steps[1].drills.clear(); }},
        {"taper.steps[1].drills[0].repetitions",
         [](Plan& p) { p.taper.steps[1].drills[0].repetitions = 11; }},
        {"taper.steps[0].practices_a_week", [](Plan& p) { p.taper.steps[0].practices_a_week = 0; }},
        {"taper.steps[0].practices_a_week",
         [](Plan& p) { p.taper.steps[0].practices_a_week = 43; }},
        {"taper.steps[0].days", [](Plan& p) { p.taper.steps[0].days = 0; }},
        {"taper.steps[0].days", [](Plan& p) { p.taper.steps[0].days = 61; }},
        {"taper.met_on_days", [](Plan& p) { p.taper.met_on_days = 0; }},
        {"taper.met_on_days", [](Plan& p) { p.taper.met_on_days = 31; }},
        {"taper.keep_share", [](Plan& p) { p.taper.keep_share = 0.49; }},
        {"taper.keep_share", [](Plan& p) { p.taper.keep_share = 1.01; }},
        {"taper_step", [](Plan& p) { p.taper_step = -1; }},
        {"taper_step", [](Plan& p) { p.taper_step = 3; }, cannot},
        {"models", [](Plan& p) { p.models.resize(17, p.models[0]); }},
        {"models[1]", [](Plan& p) { p.models[1] = p.models[0]; }, cannot},
        {"models[0].note", [](Plan& p) { p.models[0].note.reset(); }},
        {"models[0].note", [](Plan& p) { p.models[0].note = Note{85}; }},
        {"models[1].note", [](Plan& p) { p.models[1].note = kF4; }},
        {"models[0].flac_base64", [](Plan& p) { p.models[0].flac.clear(); }},
        {"models[0].flac_base64", [](Plan& p) { p.models[0].flac[0] = std::byte{'F'}; }, cannot},
        {"models[0].flac_base64",
         [](Plan& p) { p.models[0].flac = flac_headings({48'000.0}, Seconds{15.1}); }, cannot},
        {"models[0].flac_base64", [](Plan& p) { p.models[0].flac.resize((3U << 20U) + 1); },
         cannot},
    };
}

}  // namespace holdwell::test
