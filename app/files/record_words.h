#pragma once
// The words of files for what stands in records. They are a promise to other programs: added to,
// never changed.

#include "app/files/plan_json.h"
#include "app/practice/records.h"

namespace holdwell {

inline constexpr Names<OnsetClass, 4> kOnsetNames{{{OnsetClass::easy, "easy"},
                                                   {OnsetClass::hard, "hard"},
                                                   {OnsetClass::breathy, "breathy"},
                                                   {OnsetClass::unsure, "unsure"}}};
inline constexpr Names<HoldEnd, 4> kHoldEndNames{{{HoldEnd::voice_stopped, "voice_stopped"},
                                                  {HoldEnd::fry, "fry"},
                                                  {HoldEnd::faded, "faded"},
                                                  {HoldEnd::stream_ended, "stream_ended"}}};
inline constexpr Names<Doubt, 4> kDoubtNames{{{Doubt::several_sounds, "several_sounds"},
                                              {Doubt::machine, "machine"},
                                              {Doubt::noisy_room, "noisy_room"},
                                              {Doubt::overloaded, "overloaded"}}};
inline constexpr Names<GlideDirection, 2> kDirectionNames{
    {{GlideDirection::up, "up"}, {GlideDirection::down, "down"}}};
inline constexpr Names<PracticeKind, 3> kPracticeKindNames{
    {{PracticeKind::at_home, "at_home"},
     {PracticeKind::in_session, "in_session"},
     {PracticeKind::entered_by_hand, "entered_by_hand"}}};
inline constexpr Names<Completion, 5> kCompletionNames{
    {{Completion::under_way, "under_way"},
     {Completion::complete, "complete"},
     {Completion::partial, "partial"},
     {Completion::not_today, "not_today"},
     {Completion::stopped_for_discomfort, "stopped_for_discomfort"}}};
inline constexpr Names<Standing, 2> kStandingNames{
    {{Standing::active, "active"}, {Standing::archived, "archived"}}};
inline constexpr Names<OnsetAsked, 2> kOnsetAskedNames{
    {{OnsetAsked::any, "any"}, {OnsetAsked::easy, "easy"}}};
inline constexpr Names<Cueing, 2> kCueingNames{
    {{Cueing::independently, "independently"}, {Cueing::with_cue, "with_cue"}}};

}  // namespace holdwell
