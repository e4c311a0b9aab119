#pragma once
// How pages say days, times, drills and plans: one wording for all of them.

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/office/requests.h"
#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// "3 March 2026", "Tue 3 Mar", "Tue".
std::string day_in_words(Date date);
std::string short_day(Date date);
std::string weekday_said(Date date);
// "today", "yesterday", "9 days ago", "3 March 2026" when it is 60 days or more; a day ahead of
// today is said by its date.
std::string days_ago_in_words(Date date, Date today);
// "08:10".
std::string time_in_words(ClockTime time);

// "± 100 cents".
std::string band_said(Cents band);
// "1 trial", "2 trials": the plural is the word with an s unless it is given.
std::string counted(int n, std::string_view one, std::string_view many = {});
// "twice", "once", "3 times".
std::string times_said(int n);
// "86 %".
std::string percent_said(double share);
// "0 MB", "640 kB", "31 MB": to three figures at most.
std::string size_said(std::int64_t bytes);
// Where a file goes that is written without a path, after "into".
std::string usual_folder_said(Lasting lasting);
// What is to be known of a written file that does not stay; empty when it does.
std::string gone_when_closed_said(Lasting lasting);
// Its first letter as a capital, or as a small one, where that is plain.
std::string capitalised(std::string text);
std::string uncapitalised(std::string text);
// "a, b and c".
std::string joined(const std::vector<std::string>& parts);
// What is shown of a long text: at most `letters` code points, the last of them an ellipsis.
std::string shortened(const std::string& text, std::size_t letters);
// The same with the ellipsis in the middle: codes often differ at their ends.
std::string shortened_inside(const std::string& text, std::size_t letters);

// "Warm-up hold on F4", "Rising glide".
std::string drill_on_note_said(DrillKind kind, std::optional<Note> note);

std::string voice_said(VoiceSet set);              // "higher voice"
std::string ladder_said(const VoiceNotes& voice);  // "C4 D4 E4 F4 G4"
std::string origin_said(GoalOrigin origin);        // "from the /s/ baseline"
// "18 s, from the /s/ baseline, set on 3 March 2026"; "none: as long as the breath is easy".
std::string goal_said(const std::optional<Goal>& goal);
// "the full plan", "step 2 of 6: once a day".
std::string taper_said(const Plan& plan);
std::string completion_said(Completion completion);  // "complete", "stopped early"
std::string kind_said(PracticeKind kind);            // "at home"
std::string onset_said(OnsetClass onset);            // "easy"
// The plan in two lines: what is sung, and how much of it.
std::vector<std::string> plan_in_two_lines(const Plan& plan);

// "12.5", "12,5", " 12 s ": seconds typed by a person. Nothing for any other text.
std::optional<double> number_typed(std::string_view text);
// "2026-03-28": a day typed by a person. Nothing for any other text, or for no day at all.
std::optional<Date> date_typed(std::string_view text);
// The same day as one types it.
std::string typed_form_of(Date date);

}  // namespace holdwell
