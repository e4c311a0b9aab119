#include "app/practice/cautions.h"

#include <algorithm>
#include <array>
#include <map>

#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

constexpr std::array kCautions{
    CautionText{"See a physician first",
                "if your voice has been hoarse for four weeks or more, or if anything about it "
                "worries you. Ask before long breaths out if you have a heart or lung condition, "
                "high blood pressure, have fainted before, are late in pregnancy, or have had "
                "surgery lately."},
    CautionText{"Stop",
                "if it hurts, if your voice grows hoarser, or if you feel dizzy or out of breath. "
                "Sit down, breathe normally, and tell your therapist."},
    CautionText{"Do not practise",
                "with a heavy cold or a fever, while you have been told to rest your voice, or "
                "after surgery on your throat until you have been told you may."},
    CautionText{"Soft and easy", "Never squeeze out the last second. The breath decides how long."},
    CautionText{"A practice aid",
                "Holdwell times and shows what it hears. It does not examine or diagnose, and it "
                "does not replace care: your therapist decides what is right for you."},
};

constexpr std::array kQuestions{
    QuestionText{BeforeQuestion::pain, "Does your throat hurt?"},
    QuestionText{BeforeQuestion::hoarser, "Is your voice hoarser than usual today?"},
    QuestionText{BeforeQuestion::unwell, "Do you feel unwell: a cold, a fever?"},
    QuestionText{BeforeQuestion::on_voice_rest, "Have you been told to rest your voice?"},
};

constexpr const char* kTellTherapist = "Tell your therapist about it before you practise again.";

// The one answer that decides what is said first: the gravest.
const char* reason_of(const BeforePractice& answers)
{
    if (answers.on_voice_rest) return "You have been told to rest your voice, so today it rests.";
    if (answers.pain) return "A throat that hurts needs rest, not practice.";
    if (answers.hoarser) return "A hoarser voice needs a quiet day.";
    return "When you are unwell, your voice needs its rest too.";
}

// ---- days ------------------------------------------------------------------------------------

// What the worst moment of one day came to.
struct DayOfVoice {
    int effort{0};
    int discomfort{0};
    bool speaks_against{false};
};

std::map<Date, DayOfVoice> days_of(std::span<const Practice> practices, Date today)
{
    std::map<Date, DayOfVoice> days;
    for (const Practice& practice : practices) {
        const bool stopped = practice.completion == Completion::stopped_for_discomfort;
        const bool said = practice.before.pain || practice.before.hoarser;
        if (practice.begun.date > today || (!practice.rating && !stopped && !said)) continue;
        DayOfVoice& day = days[practice.begun.date];
        day.speaks_against = day.speaks_against || stopped || said;
        if (!practice.rating) continue;
        day.effort = std::max(day.effort, practice.rating->effort);
        day.discomfort = std::max(day.discomfort, practice.rating->discomfort);
    }
    return days;
}

bool is_worse(const DayOfVoice& day, const DayOfVoice& before)
{
    constexpr int kEffortStep = 2;
    return day.speaks_against || day.discomfort > before.discomfort ||
           day.effort >= before.effort + kEffortStep;
}

}  // namespace

// ---- fixed texts -------------------------------------------------------------------------------

std::span<const CautionText> cautions() { return kCautions; }

const char* const kPracticeAid =
    "This is a practice aid prescribed by your therapist. It does not examine, diagnose or replace "
    "care by a licensed professional.";

std::span<const QuestionText> before_questions() { return kQuestions; }

const RatingText kEffortRating{"How much effort did your voice take?", "none", "the most"};
const RatingText kDiscomfortRating{"Any discomfort in your throat?", "none", "very much"};

// ---- advice ------------------------------------------------------------------------------------

std::optional<Advice> advice_before(const BeforePractice& answers)
{
    if (!answers.any()) return std::nullopt;
    return Advice{.consequence = Consequence::no_drills_today,
                  .title = "Rest today",
                  .sentences = {reason_of(answers), kTellTherapist}};
}

Advice advice_after(const SelfRating& rating)
{
    if (rating.discomfort >= kDiscomfortToStop)
        return {.consequence = Consequence::stop_for_today,
                .title = "Stop for today",
                .sentences = {"Practice should not hurt. Rest your voice for the rest of the day.",
                              kTellTherapist}};
    if (rating.effort >= kEffortToStop)
        return {.consequence = Consequence::stop_for_today,
                .title = "Enough for today",
                .sentences = {"That took a great deal of effort. Rest your voice for the rest of "
                              "the day.",
                              "Tell your therapist: the practice is meant to be easy."}};
    if (rating.discomfort > 0)
        return {.consequence = Consequence::take_care,
                .title = "Be gentle",
                .sentences = {"A little discomfort is worth heeding: be softer and shorter next "
                              "time.",
                              "If it is still there tomorrow, leave the practice out and tell your "
                              "therapist."}};
    if (rating.effort >= kEffortToEase)
        return {.consequence = Consequence::take_care,
                .title = "Softer next time",
                .sentences = {"Softer is right: let the breath end a hold, and never squeeze out "
                              "the last second."}};
    return {.consequence = Consequence::go_on,
            .title = "Thank you",
            .sentences = {"Easy and comfortable is just how it should feel."}};
}

Advice advice_on_discomfort()
{
    return {.consequence = Consequence::stop_for_today,
            .title = "Stop for today",
            .sentences = {"You did right to stop. Rest your voice for the rest of the day.",
                          kTellTherapist}};
}

Advice advice_on_dizziness()
{
    return {.consequence = Consequence::stop_for_today,
            .title = "Sit down",
            .sentences = {"Sit down and breathe normally. Do not repeat the hold.",
                          "If it does not pass soon, or your chest hurts, call for medical help.",
                          kTellTherapist}};
}

std::optional<Advice> advice_on_days(std::span<const Practice> practices, Date today)
{
    const std::map<Date, DayOfVoice> days = days_of(practices, today);
    if (days.size() < 2) return std::nullopt;
    const auto last = days.rbegin();
    const auto second = std::next(last);
    const auto first = std::next(second);
    if (days_between(last->first, today) >= std::chrono::days{7}) return std::nullopt;
    const bool second_is_worse = second->second.speaks_against ||
                                 (first != days.rend() && is_worse(second->second, first->second));
    if (!second_is_worse || !is_worse(last->second, second->second)) return std::nullopt;
    return Advice{.consequence = Consequence::contact_therapist,
                  .title = "Contact your therapist",
                  .sentences = {"Your voice felt worse two days running.",
                                "Leave the practice out until you have spoken to your "
                                "therapist."}};
}

int practices_on(std::span<const Practice> practices, Date day)
{
    return static_cast<int>(
        std::count_if(practices.begin(), practices.end(), [day](const Practice& practice) {
            return practice.begun.date == day && !practice.trials.empty();
        }));
}

std::optional<Advice> advice_on_number(const Plan& plan, int done_today)
{
    if (done_today < plan.most_practices_a_day) return std::nullopt;
    const std::string times = done_today == 1   ? "once"
                              : done_today == 2 ? "twice"
                                                : count_in_words(done_today) + " times";
    return Advice{
        .consequence = Consequence::take_care,
        .title = "Enough for today",
        .sentences = {"You have practised " + times + " today, as much as your plan asks for.",
                      "More is not better: a rested voice learns."}};
}

}  // namespace holdwell
