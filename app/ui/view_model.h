#pragma once
// The window without a window: updates of the worker and the person's events go in, the view to
// draw and commands for the worker come out.
//
// Single-threaded and deterministic. Its only clock is the stream's: the rest after a trial is
// counted in samples heard.

#include <algorithm>
#include <filesystem>
#include <memory>
#include <vector>

#include "app/ui/guided_run.h"
#include "app/ui/model.h"
#include "app/ui/page_stack.h"
#include "app/ui/views.h"

namespace holdwell {

class ViewModel {
public:
    ViewModel(WindowOptions options, Preferences preferences);

    void apply(const Update& update);
    void apply(const Event& event);
    void apply(const Answer& answer);
    void apply(const DayIs& now);
    // The first page; to be given before anything else when the window opens on one.
    void open_page(std::unique_ptr<Page> page);

    // Since the last call, oldest first.
    std::vector<Command> take_commands();
    std::vector<Asked> take_requests();
    // Text that is to be on the clipboard, if any since the last call.
    std::optional<std::string> take_copied() { return std::exchange(copied_, std::nullopt); }
    WindowView view() const;
    Screen screen() const { return model_.screen; }
    const Preferences& preferences() const { return model_.preferences; }
    // What is drawn has so many pages below the first: none further can be turned to.
    void limit_page(int last_page) { model_.page = std::min(model_.page, last_page); }
    // After every drawing. Where a page was turned, the focus comes along.
    void saw(const Seen& seen);
    // A page's text row is being typed into.
    bool is_typing() const;
    // Into that row, UTF-8.
    void type(const std::string& text);
    // A file was let go over the window.
    void drop(const std::filesystem::path& path);
    // The person has asked to leave.
    bool is_leaving() const { return model_.leaving; }

private:
    void hear(const StageChanged& changed);
    void hear(const FrameHeard& frame);
    void hear(const TrialFinished& finished);
    void hear(const GlideFinished& finished);
    void hear(const SibilantFinished& finished);
    void hear(const TrialDiscarded& discarded);
    void hear(const SoundCheckFinished& finished);
    void hear(const DrillRefused& refused);
    void hear(const ProcessingChanged& changed);
    void hear(const CaptureChanged& changed);
    void hear(const SamplesLost& lost);
    void hear(const MicrophonesListed& listed);
    void hear(const ModelCaptured& captured);
    void hear(const ClipCaptured&) {}  // the guided practice's own

    void act(Action action);
    void act(const PickRow& pick);
    void act(const StepRow& step);
    void act(const PickNote& pick);
    void act(const PressKey& press);
    void act(const PickPageRow& pick);
    void act(const StepPageRow& step);

    void enter(Screen screen);
    void leave_screen();
    void proceed();
    void pause_or_resume();
    void begin_drill();
    void go_to_next_drill();
    void arm_after_rest();
    void move_focus(int by);
    void turn_page(int by);
    void step_value(int by);
    void choose_note(Note note);
    void set_band(Cents band);
    void scale_text(int percent);
    void play_demo();
    void play_next_demo();
    // What pages wish of the window.
    void fulfil_wishes();
    void fulfil(const OpenTolerance& wish);
    void fulfil(const OpenPracticeRoom& wish);
    void fulfil(const OpenSoundCheck& wish);
    void fulfil(const OpenCautions& wish);
    void fulfil(const CopyText& wish);
    void fulfil(const LeaveProgram& wish);
    void fulfil(const StartPractice& wish);
    void fulfil(const StartBaseline& wish);
    void fulfil(const RecordModel& wish);
    void fulfil(const HearModel& wish);
    void send_to(Screen screen);
    void return_to_page();
    // The therapist's own voice, on a page.
    enum class ModelWork { none, recording, hearing };
    void end_model_work();
    bool stops_recording(const PageEvent& event);
    void act_on_page(const PageEvent& event);
    RequestNumber ask(Request request);
    // The guided practice.
    void leave_demo();
    void start_run(GuidedRun run);
    void show_run();
    void tell_run(const Update& update);
    void tell_run(const Answer& answer);
    void carry_on_run();
    void show_drill(const Drill& drill);
    void end_run();
    void abandon_run();
    void drop_run();
    // False: the key means what it always does.
    bool steers_run(Action action);
    bool press_run(GuideKey key);
    Rank rank_and_keep(const Drill& drill, Seconds length);
    // The ear, and what the therapist teaches it.
    void compare_set_up(const SoundCheckFinished& check);
    void note_start(const Onset& onset);
    void use_starts_of(const Client& client);
    void follow_client(const Answer& answer);
    void name_start(OnsetClass name);
    void take_name_back();
    void keep_starts();
    void step_level(int row, int by);
    void keep_level();
    void forget_level();
    void post(Command command) { commands_.push_back(std::move(command)); }

    Model model_;
    PageStack pages_;
    std::optional<GuidedRun> run_;
    std::vector<Asked> requests_;  // besides those of the pages
    std::optional<Date> day_;      // that the page on top was opened on
    std::vector<Command> commands_;
    std::optional<std::string> copied_;
    ModelWork model_work_{ModelWork::none};
    std::string page_notice_;  // of the window, where a page has none of its own
};

}  // namespace holdwell
