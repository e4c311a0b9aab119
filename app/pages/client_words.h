#pragma once
// What the therapist's page of one client says about her, as functions of her records.

#include <string>

#include "app/pages/page.h"
#include "app/practice/records.h"
#include "app/practice/taper.h"

namespace holdwell {

// "Active, in the records since 3 March 2026."
std::string standing_said(const Client& client);
// Fourteen days up to today: what was done of what the plan asks.
DaysBlock last_two_weeks(const ClientFile& file, Date today);
// "Yesterday at 08:10, at home: complete, 14 of 14 trials. Effort 2, discomfort 0 of 10." and her
// own words, if she left any.
std::string last_practice_said(const Practice& practice, Date today);
// What her onsets are named by: "14 onsets named on 3 March 2026: hints follow your ear ..."
std::string onset_labels_said(const Client& client);
// "the next step can be offered"; empty when there is nothing to offer.
std::string taper_offer_said(TaperMove move);

}  // namespace holdwell
