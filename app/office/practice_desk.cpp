#include "app/office/practice_desk.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/practice/additions.h"
#include "app/practice/counting.h"

namespace holdwell {
namespace {

constexpr std::size_t kCodeDigits = 4;

Refused no_practice()
{
    return {"This practice is not in the records; it may have been deleted with its client."};
}

// A code that few others will have, so that a therapist who takes in practices of several homes
// can tell them apart.
std::string code_from(const Id& id) { return "client-" + id.text.substr(0, kCodeDigits); }

// The client of this computer, with the plan that one begins with.
HeldHome new_home(const Desk& desk, const std::optional<Id>& named)
{
    HeldHome home;
    home.client.id = named ? *named : desk.settings.new_id();
    home.client.code = code_from(home.client.id);
    home.client.since = desk.settings.now().date;
    home.plan.id = desk.settings.new_id();
    home.plan.written = home.client.since;
    return home;
}

std::optional<Practice> unfinished_in(const ClientFile& file, const Moment& now)
{
    // What was left open before another practice is not gone back to.
    const auto latest = std::ranges::find_if(
        file.practices.rbegin(), file.practices.rend(), [](const Practice& practice) {
            return practice.kind == PracticeKind::at_home && !leaves_no_trace(practice);
        });
    const bool goes_on = latest != file.practices.rend() && can_be_gone_on_with(*latest, now);
    return goes_on ? std::optional{*latest} : std::nullopt;
}

// One that was cut off before its first trial, and is surely not under way any more, is taken out.
void clear_away_empty(Desk& desk, ClientFile& file)
{
    const Moment now = desk.settings.now();
    std::erase_if(file.practices, [&](const Practice& practice) {
        return leaves_no_trace(practice) && !was_begun_lately(practice, now) &&
               desk.keeper.take_out(practice.id);
    });
}

HomeLoaded loaded(Desk& desk, ClientFile file)
{
    HomeLoaded home;
    home.today = desk.settings.now().date;
    home.unfinished = unfinished_in(file, desk.settings.now());
    home.lasting = desk.settings.lasting;
    home.notice = desk.keeper.notice();
    home.clips = desk.keeper.clips_of(file.client.id);
    home.handed_out = desk.keeper.handed_out(file.client.id);
    home.folder = desk.keeper.folder();
    home.bytes = desk.keeper.bytes_on_disk();
    home.file = std::move(file);
    return home;
}

// Numbers that every trial has; a store has no place for one that is not a number, and it would
// stand in the way of all that come after it.
std::array<double, 4> numbers_of(const HoldMeasures& m)
{
    return {m.hold_time.count(), m.interrupted.count(), m.fry.count(), m.snr.value};
}
std::array<double, 3> numbers_of(const GlideMeasures& m)
{
    return {m.length.count(), m.fry.count(), m.smoothness};
}
std::array<double, 1> numbers_of(const SibilantMeasures& m) { return {m.length.count()}; }

bool can_be_stored(const Trial& trial)
{
    const auto is_finite = [](double number) { return std::isfinite(number); };
    return is_finite(trial.band.value) && is_finite(trial.begun.count()) &&
           std::visit(
               [&](const auto& measures) {
                   return std::ranges::all_of(numbers_of(measures), is_finite);
               },
               trial.measures);
}

// Sound is kept only where the plan asks for it and the client consented.
bool may_keep_sound(Desk& desk, const Id& client)
{
    const auto file = desk.keeper.client_and_plans(client);
    if (!file || !file.value() || file.value()->plans.empty()) return false;
    return file.value()->client.keeps_audio && file.value()->plans.back().keeps == Keeps::audio_too;
}

}  // namespace

Answer answer(Desk& desk, const LoadHome&)
{
    const auto home = desk.keeper.home();
    if (!home) return Refused{home.error().message};
    std::optional<ClientFile> file;
    if (home.value()) {
        auto stored = desk.keeper.client_file(*home.value());
        if (!stored) return Refused{stored.error().message};
        file = std::move(stored.value());
    }
    if (!file) {
        HeldHome made = new_home(desk, home.value());
        file = ClientFile{made.client, {made.plan}, {}};
        desk.keeper.keep(std::move(made));
    }
    let_clips_expire(desk, *file);
    clear_away_empty(desk, *file);
    return loaded(desk, std::move(*file));
}

Answer answer(Desk& desk, const SetHome& request)
{
    const auto there = desk.keeper.client_and_plans(request.client);
    if (!there) return Refused{there.error().message};
    if (!there.value()) return Refused{"This client is not in the records."};
    const Outcome set =
        desk.keeper.change([&](Store& store) { return store.set_home_client(request.client); });
    if (!set) return Refused{set.error().message};
    return answer(desk, LoadHome{});
}

Answer answer(Desk& desk, const BeginPractice& request)
{
    Practice practice = request.practice;
    const auto client = desk.keeper.client_and_plans(practice.client);
    if (!client) return Refused{client.error().message};
    if (!client.value()) return Refused{"This client is not in the records."};
    if (practice.id.text.empty()) practice.id = desk.settings.new_id();
    const auto there = desk.keeper.practice(practice.id);
    if (!there) return Refused{there.error().message};
    if (there.value() && there.value()->client != client.value()->client.id)
        return Refused{"A practice of another client has this id."};
    if (practice.begun == Moment{}) practice.begun = desk.settings.now();
    desk.keeper.keep(HeldPractice{practice});
    return PracticeBegun{practice, desk.keeper.notice()};
}

Answer answer(Desk& desk, const KeepTrial& request)
{
    const auto practice = desk.keeper.practice(request.practice);
    if (!practice) return Refused{practice.error().message};
    if (!practice.value()) return no_practice();
    if (!can_be_stored(request.trial))
        return Refused{"This trial was not kept: a measure of it is not a number."};
    Trial trial = request.trial;
    if (trial.id.text.empty()) trial.id = desk.settings.new_id();
    desk.keeper.keep(HeldTrial{request.practice, trial});
    if (request.clip && may_keep_sound(desk, practice.value()->client)) {
        Clip clip = *request.clip;
        clip.trial = trial.id;
        desk.keeper.keep(HeldClip{request.practice, std::move(clip), desk.settings.now().date});
    }
    return TrialKept{trial.id, desk.keeper.notice()};
}

Answer answer(Desk& desk, const ClosePractice& request)
{
    const auto there = desk.keeper.practice(request.practice.id);
    if (!there) return Refused{there.error().message};
    if (!there.value()) return no_practice();
    Practice practice = *there.value();
    practice.completion = request.practice.completion;
    practice.rating = request.practice.rating;
    practice.remark = request.practice.remark;
    practice.sound_check = request.practice.sound_check;
    // On a disk that cannot be written it stays, closed: it then counts for nothing.
    if (leaves_no_trace(practice) && desk.keeper.take_out(practice.id))
        return PracticeClosed{practice, desk.keeper.notice()};
    Practice without_trials = practice;
    without_trials.trials.clear();
    desk.keeper.keep(HeldPractice{std::move(without_trials)});
    return PracticeClosed{practice, desk.keeper.notice()};
}

Answer answer(Desk& desk, const KeepByHand& request)
{
    Practice practice = request.practice;
    const auto client = desk.keeper.client_and_plans(practice.client);
    if (!client) return Refused{client.error().message};
    if (!client.value()) return Refused{"This client is not in the records."};
    if (!std::ranges::all_of(practice.trials, can_be_stored))
        return Refused{"Nothing was kept: a measure of it is not a number."};
    practice.kind = PracticeKind::entered_by_hand;
    if (practice.id.text.empty()) practice.id = desk.settings.new_id();
    for (Trial& trial : practice.trials)
        if (trial.id.text.empty()) trial.id = desk.settings.new_id();
    Additions all;
    all.client = client.value()->client;
    all.practices = {practice};
    const Outcome kept = desk.keeper.change([&](Store& store) { return store.keep(all); });
    if (!kept) return Refused{kept.error().message};
    return PracticeClosed{practice, ""};
}

}  // namespace holdwell
