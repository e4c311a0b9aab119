#pragma once
// What a client is told for her safety, and when. Kind, plain, never a diagnosis.
//
// See a physician first when hoarseness lasts: Stachler et al., Otolaryngol. Head Neck Surg.
// 158(1S), S1-S42, 2018 (four weeks, from memory). When to stop and when not to practise: common
// practice, no single source. The limits on the ratings are chosen by us on the side of caution.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// ---- fixed texts ---------------------------------------------------------------------------

struct CautionText {
    const char* title;
    const char* text;
};
// See a physician first; stop; do not practise; soft and easy; a practice aid.
std::span<const CautionText> cautions();
// Stands on every report and on the first page.
extern const char* const kPracticeAid;

// The questions asked before a practice, in order.
enum class BeforeQuestion { pain, hoarser, unwell, on_voice_rest };
struct QuestionText {
    BeforeQuestion question;
    const char* text;  // "Does your throat hurt?"
};
std::span<const QuestionText> before_questions();

// The questions after it, each answered 0 .. 10.
struct RatingText {
    const char* question;
    const char* at_0;
    const char* at_10;
};
extern const RatingText kEffortRating;
extern const RatingText kDiscomfortRating;

// ---- advice --------------------------------------------------------------------------------

enum class Consequence {
    go_on,
    take_care,          // gently, or less
    no_drills_today,    // said before a practice
    stop_for_today,     // said after or within one
    contact_therapist,  // and no practice until she has been asked
};
struct Advice {
    Consequence consequence{Consequence::go_on};
    std::string title;                   // "Rest today"
    std::vector<std::string> sentences;  // for the client
};

// Absent when nothing speaks against the practice.
std::optional<Advice> advice_before(const BeforePractice& answers);

inline constexpr int kDiscomfortToStop = 4;  // of 10; chosen by us
inline constexpr int kEffortToEase = 5;
inline constexpr int kEffortToStop = 8;
// Always a sentence or two; go_on when all is well.
Advice advice_after(const SelfRating& rating);

// She chose "it is uncomfortable" within the practice.
Advice advice_on_discomfort();
// She is dizzy or out of breath.
Advice advice_on_dizziness();

// Two days running on which it felt worse than the day before: practised days with a rating, the
// latest within the last week. Worse: more discomfort, or effort higher by 2 or more, or stopped
// for discomfort, or pain or hoarseness said beforehand.
std::optional<Advice> advice_on_days(std::span<const Practice> practices, Date today);

// Practices with at least one trial begun on that day.
int practices_on(std::span<const Practice> practices, Date day);
// As many as the plan allows were done today: advised against, never locked.
std::optional<Advice> advice_on_number(const Plan& plan, int done_today);

}  // namespace holdwell
