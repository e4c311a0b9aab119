// Where pages and the rest of the window meet.

#include <algorithm>

#include "app/ui/view_model.h"

namespace holdwell {

void ViewModel::open_page(std::unique_ptr<Page> page)
{
    // A window that opens on the practice screen has its pages behind it.
    if (model_.screen != Screen::page) model_.sent_to = Screen::practice;
    pages_.open(std::move(page));
    fulfil_wishes();
}

void ViewModel::apply(const Answer& answer)
{
    tell_run(answer);
    follow_client(answer);
    pages_.hear(answer);
    fulfil_wishes();
}

void ViewModel::act(const PressKey& press)
{
    if (model_work_ == ModelWork::none) page_notice_.clear();
    const auto shown = pages_.view();
    // With nowhere else to go, up and down turn the page.
    const bool has_rows = shown && rows_in(*shown) > 1;
    if (!has_rows && press.key == PressKey::Key::up) return turn_page(-1);
    if (!has_rows && press.key == PressKey::Key::down) return turn_page(+1);
    act_on_page(press);
}

void ViewModel::act(const PickPageRow& pick) { act_on_page(pick); }
void ViewModel::act(const StepPageRow& step) { act_on_page(step); }
void ViewModel::type(const std::string& text) { act_on_page(TypeText{text}); }
void ViewModel::drop(const std::filesystem::path& path) { act_on_page(DropFile{path}); }

void ViewModel::act_on_page(const PageEvent& event)
{
    if (model_.screen != Screen::page || stops_recording(event)) return;
    model_.page = 0;
    model_.turned = Model::Turned::no;
    pages_.act(event);
    fulfil_wishes();
}

void ViewModel::saw(const Seen& seen)
{
    limit_page(seen.last_page);
    model_.seen = seen;
    // Once for each turning: a row in focus is higher than others, and moves what is seen.
    if (model_.turned != Model::Turned::just_now) return;
    model_.turned = Model::Turned::settled;
    const auto shown = pages_.view();
    if (model_.screen != Screen::page || !seen.rows || !shown || !shown->focused) return;
    const int nearest = std::clamp(*shown->focused, seen.rows->first, seen.rows->last);
    if (nearest != *shown->focused) pages_.act(FocusRow{nearest});
}

std::vector<Asked> ViewModel::take_requests()
{
    std::vector<Asked> requests = std::exchange(requests_, {});
    for (Asked& asked : pages_.take_requests()) requests.push_back(std::move(asked));
    return requests;
}

RequestNumber ViewModel::ask(Request request)
{
    const RequestNumber number = pages_.new_number();
    requests_.push_back({number, std::move(request)});
    return number;
}

// Behind other screens a page reads its records anew when it is come back to.
void ViewModel::apply(const DayIs& now)
{
    if (day_ && (*day_ == now.day || model_.screen != Screen::page)) return;
    const bool is_another = day_.has_value();
    day_ = now.day;
    if (!is_another) return;
    pages_.uncover();
    fulfil_wishes();
}

bool ViewModel::is_typing() const { return model_.screen == Screen::page && pages_.is_typing(); }

void ViewModel::fulfil_wishes()
{
    for (const PageWish& wish : pages_.take_wishes()) {
        std::visit(
            [this](const auto& w) {
                // The stack has done what concerns pages and records.
                if constexpr (requires { fulfil(w); }) fulfil(w);
            },
            wish);
    }
}

void ViewModel::send_to(Screen screen)
{
    model_.sent_to = screen;
    if (model_.capture.state == CaptureState::no_device) return enter(Screen::no_microphone);
    enter(screen);
}

void ViewModel::return_to_page()
{
    model_.sent_to.reset();
    model_.screen = Screen::page;
    model_.page = 0;
    post(PauseListening{});
    pages_.uncover();
    fulfil_wishes();
}

void ViewModel::fulfil(const OpenTolerance&)
{
    post(BeginDrill{model_.drill});
    send_to(Screen::tolerance);
}

void ViewModel::fulfil(const OpenPracticeRoom&)
{
    send_to(Screen::practice);
    if (model_.screen == Screen::practice) begin_drill();
}

void ViewModel::fulfil(const OpenSoundCheck&) { send_to(Screen::sound_check); }
void ViewModel::fulfil(const OpenCautions&) { enter(Screen::help); }
void ViewModel::fulfil(const CopyText& wish) { copied_ = wish.text; }
void ViewModel::fulfil(const LeaveProgram&) { model_.leaving = true; }

}  // namespace holdwell
