// How well the microphone can be trusted, and what the therapist teaches it: another part of the
// view model.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/ui/present_ear.h"
#include "app/ui/view_model.h"

namespace holdwell {

void ViewModel::hear(const DrillRefused& refused) { model_.ear.refused = refused.sentence; }

void ViewModel::hear(const ProcessingChanged& changed) { model_.ear.processing = changed.heard; }

void ViewModel::compare_set_up(const SoundCheckFinished& check)
{
    auto& last = model_.preferences.last_check;
    CheckedSetup now = setup_of(model_);
    now.room = check.noise_floor;
    now.voice = check.voice_level;
    std::string& change = model_.ear.set_up_change;
    change.clear();
    if (last && !is_same_device(*last, now)) {
        change = "It is another microphone, or another rate, than at the last sound check: levels "
                 "before and after cannot be compared.";
    } else if (const auto gain = last ? gain_change(*last, now) : std::nullopt) {
        change = fmt::format("Room and voice are both about {:.0f} dB {} than at the last sound "
                             "check: the input level seems to have been changed, so levels before "
                             "and after cannot be compared.",
                             std::abs(gain->value), gain->value > 0.0 ? "louder" : "softer");
    }
    last = counted_on(last, std::move(now));
}

// ---- the names of starts -----------------------------------------------------------------------

void ViewModel::note_start(const Onset& onset)
{
    model_.ear.starts.latest = onset;
    model_.ear.starts.given.reset();
}

void ViewModel::use_starts_of(const Client& client)
{
    StartNaming& starts = model_.ear.starts;
    starts.client = client;
    starts.is_changed = false;
    starts.baseline =
        client.onset_baseline ? OnsetBaseline{client.onset_baseline->onsets} : OnsetBaseline{};
    post(UseOnsetThresholds{starts.baseline.thresholds()});
}

void ViewModel::follow_client(const Answer& answer)
{
    StartNaming& starts = model_.ear.starts;
    if (const auto* home = std::get_if<HomeLoaded>(&answer)) {
        starts.today = home->today;
        if (!starts.client || (!run_ && !starts.is_changed)) use_starts_of(home->file.client);
    } else if (const auto* opened = std::get_if<ClientOpened>(&answer)) {
        starts.today = opened->today;
    } else if (const auto* changed = std::get_if<ClientChanged>(&answer)) {
        const bool is_same = starts.client && starts.client->id == changed->client.id;
        if (is_same && !starts.is_changed) starts.client = changed->client;
    }
}

void ViewModel::name_start(OnsetClass name)
{
    StartNaming& starts = model_.ear.starts;
    if (!starts.latest || !starts.latest->features) return;
    if (starts.given) starts.baseline.take_back();  // she has thought again
    starts.given = name;
    starts.baseline.add({*starts.latest->features, name});
    starts.is_changed = true;
    post(UseOnsetThresholds{starts.baseline.thresholds()});
    if (!run_ && model_.stage == Stage::finished) post(ArmTrial{});
}

void ViewModel::take_name_back()
{
    StartNaming& starts = model_.ear.starts;
    if (starts.baseline.count() == 0) return;
    starts.baseline.take_back();
    starts.given.reset();
    starts.is_changed = true;
    post(UseOnsetThresholds{starts.baseline.thresholds()});
}

// On leaving the screen, once for all names given.
void ViewModel::keep_starts()
{
    StartNaming& starts = model_.ear.starts;
    if (!starts.is_changed || !starts.client || !starts.today.ok()) return;
    starts.is_changed = false;
    starts.client->onset_baseline =
        OnsetBaselineRecord{.labelled = starts.today, .onsets = starts.baseline.labelled()};
    ask(ChangeClient{*starts.client});
}

// ---- the level a meter reads
// ---------------------------------------------------------------------

void ViewModel::step_level(int row, int by)
{
    MeterReading& level = model_.ear.level;
    level.focused = std::clamp(row, 0, kLevelRows - 1);
    level = with_step(std::move(level), static_cast<LevelRow>(level.focused), by);
}

void ViewModel::keep_level()
{
    MeterReading& level = model_.ear.level;
    level.focused = static_cast<int>(LevelRow::heard);
    const auto heard = steady_level(level);
    if (!heard) {
        level.said = "not kept: let it sound evenly for a second";
        return;
    }
    const ReferenceReading reading{level.meter, level.weighting, level.distance, *heard};
    if (!SplCalibration::from(reading)) {
        level.said = level.weighting == Weighting::a ? "not kept: set the meter to C or Z"
                                                     : "not kept: there is too little sound";
        return;
    }
    model_.preferences.spl = SplReference{reading, model_.capture.device, model_.capture.rate};
    level.said = "kept, for this microphone";
}

void ViewModel::forget_level()
{
    model_.preferences.spl.reset();
    model_.ear.level.said = "forgotten: levels are beside the comfortable voice again";
}

}  // namespace holdwell
