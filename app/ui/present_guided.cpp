// What the practice screen says while a guide leads through a plan.

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/ui/present.h"

namespace holdwell {
namespace {

std::string aim_of(const GuideView& guide, const Drill& drill)
{
    std::string aim = "as long as the breath is easy";
    if (is_glide(drill.kind)) aim = "as far as it goes easily";
    if (drill.goal && !is_glide(drill.kind))
        aim = fmt::format("towards {}, while the breath is easy", seconds_in_words(*drill.goal));
    if (guide.repetitions < 2) return aim;
    return fmt::format("{} of {}, {}", ordinal_in_words(guide.repetition),
                       count_in_words(guide.repetitions), aim);
}

bool is_hers(GuidePhase phase)
{
    return phase == GuidePhase::cue || phase == GuidePhase::listening ||
           phase == GuidePhase::sounding;
}

void add_key(std::vector<KeyHint>& keys, const KeyHint& hint)
{
    if (!hint.does.empty()) keys.push_back(hint);
}

std::vector<KeyHint> keys_of(const GuideView& guide)
{
    std::vector<KeyHint> keys;
    add_key(keys, {"Space", guide.space, Action::pause_or_resume});
    add_key(keys, {"Enter", guide.enter, Action::proceed});
    add_key(keys, {"N", guide.next, Action::next_drill});
    add_key(keys, {"D", guide.hurts, Action::open_details});
    add_key(keys, {"F1", "help", Action::open_help});
    add_key(keys, {"Esc", guide.escape, Action::back});
    return keys;
}

std::string joined(const std::string& a, const std::string& b)
{
    if (a.empty() || b.empty()) return a + b;
    return a + "  \u00b7  " + b;
}

}  // namespace

PracticeView as_guided(PracticeView view, const Model& model)
{
    const GuideView& guide = *model.guide;
    view.drill = joined(view.drill, guide.headline);
    view.drill_aim = aim_of(guide, model.drill);
    view.keys = keys_of(guide);
    if (guide.phase == GuidePhase::resting) {
        // What was heard stays to be read, also when the practice was paused meanwhile.
        if (model.last) view.line = model.last->line;
        view.second = joined(model.stage == Stage::finished ? view.second : "", guide.second);
        if (!guide.line.empty()) view.line = guide.line;
    } else if (!is_hers(guide.phase)) {
        view.line = guide.line;
        view.second = guide.second;
    }
    if (view.notice.empty()) view.notice = model.records_notice;
    if (view.notice.empty()) view.notice = guide.notice;
    return view;
}

}  // namespace holdwell
