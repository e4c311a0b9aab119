// The therapist's own voice as the model for a drill: recorded on a page, and heard there.

#include <fmt/format.h>

#include <memory>
#include <utility>

#include "app/practice/flac_length.h"
#include "app/ui/view_model.h"

namespace holdwell {

void ViewModel::fulfil(const RecordModel& wish)
{
    if (model_work_ == ModelWork::hearing) {
        page_notice_ = "It still sounds: record when it is quiet again.";
        return;
    }
    leave_demo();
    page_notice_ = "Recording: sing it now, softly. It ends by itself when you stop; Esc gives it "
                   "up.";
    post(CaptureModel{wish.kind, wish.note});
    model_work_ = ModelWork::recording;
}

void ViewModel::hear(const ModelCaptured& captured)
{
    if (model_work_ != ModelWork::recording) return;  // given up meanwhile
    end_model_work();
    page_notice_ = captured.trouble;
    if (captured.flac.empty()) return;
    if (const auto length = flac_length(captured.flac))
        page_notice_ = fmt::format("Recorded: {:.1f} s. H plays it back; it is kept when the plan "
                                   "is saved.",
                                   length->count());
    pages_.hear(ModelVoice{.kind = captured.kind, .note = captured.note, .flac = captured.flac});
    fulfil_wishes();
}

void ViewModel::fulfil(const HearModel& wish)
{
    page_notice_.clear();
    post(UseModel{std::make_shared<const std::vector<std::byte>>(wish.model.flac)});
    post(HearNote{});
    model_work_ = ModelWork::hearing;
}

// Nothing is sung after a model that was played on a page.
void ViewModel::end_model_work()
{
    const ModelWork ended = std::exchange(model_work_, ModelWork::none);
    if (ended == ModelWork::hearing) {
        post(PauseListening{});
        post(UseModel{});
    }
}

// Escape gives up what is being recorded, and no more.
bool ViewModel::stops_recording(const PageEvent& event)
{
    const auto* press = std::get_if<PressKey>(&event);
    const bool leaves = press != nullptr && press->key == PressKey::Key::back;
    if (model_work_ != ModelWork::recording) {
        page_notice_.clear();
        return false;
    }
    if (!leaves) return false;
    end_model_work();
    page_notice_ = "Nothing was recorded.";
    post(PauseListening{});
    return true;
}

}  // namespace holdwell
