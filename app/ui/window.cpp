#include "app/ui/window.h"

#include <GLFW/glfw3.h>

#include <atomic>
#include <chrono>
#include <memory>
#include <optional>
#include <utility>

#include "app/ui/redraw.h"
#include "app/ui/renderer.h"
#include "app/ui/view_model.h"

namespace holdwell {
namespace {

using Clock = std::chrono::steady_clock;

std::optional<Key> key_of(int glfw_key)
{
    switch (glfw_key) {
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
        return Key::enter;
    case GLFW_KEY_SPACE:
        return Key::space;
    case GLFW_KEY_ESCAPE:
        return Key::escape;
    case GLFW_KEY_UP:
        return Key::up;
    case GLFW_KEY_DOWN:
        return Key::down;
    case GLFW_KEY_LEFT:
        return Key::left;
    case GLFW_KEY_RIGHT:
        return Key::right;
    case GLFW_KEY_PAGE_UP:
        return Key::page_up;
    case GLFW_KEY_PAGE_DOWN:
        return Key::page_down;
    case GLFW_KEY_F1:
        return Key::help;
    case GLFW_KEY_TAB:
        return Key::tab;
    case GLFW_KEY_BACKSPACE:
        return Key::erase;
    default:
        return std::nullopt;
    }
}

// By the letter, not by its place on the keyboard: layouts differ.
std::optional<Key> key_of_character(unsigned int character)
{
    switch (character) {
    case 'b':
    case 'B':
        return Key::letter_b;
    case 'c':
    case 'C':
        return Key::letter_c;
    case 'd':
    case 'D':
        return Key::letter_d;
    case 'h':
    case 'H':
        return Key::letter_h;
    case 'l':
    case 'L':
        return Key::letter_l;
    case 'm':
    case 'M':
        return Key::letter_m;
    case 'n':
    case 'N':
        return Key::letter_n;
    case 'p':
    case 'P':
        return Key::letter_p;
    case 'r':
    case 'R':
        return Key::letter_r;
    case 's':
    case 'S':
        return Key::letter_s;
    case 'u':
    case 'U':
        return Key::letter_u;
    case '1':
        return Key::digit_1;
    case '2':
        return Key::digit_2;
    case '3':
        return Key::digit_3;
    case '+':
    case '=':
        return Key::plus;
    case '-':
        return Key::minus;
    case '?':
        return Key::help;
    default:
        return std::nullopt;
    }
}

bool may_repeat(Key key)
{
    return key != Key::enter && key != Key::space && key != Key::escape && key != Key::help;
}

// Many updates, one wake-up. Outlives the window, in case a thread still holds it.
struct Wake {
    std::atomic<bool> is_pending{false};
    std::atomic<bool> is_open{true};
};

class Window {
public:
    Window(Renderer& renderer, const WindowRun& run, const WindowPorts& ports)
        : renderer_{renderer}, ports_{ports}, view_model_{run.options, run.preferences},
          remembered_{run.preferences}
    {
        renderer_.set_input({.on_key = [this](int key, int action) { press(key, action); },
                             .on_character = [this](unsigned int c) { type(c); },
                             .on_wheel = [this](double up) { turn(up); },
                             .on_drop = [this](const std::string& path) { drop(path); },
                             .on_change = [this] { redraw_.on_change(); }});
        if (ports_.first_page) {
            if (auto page = ports_.first_page()) view_model_.open_page(std::move(page));
        }
        ports_.set_wake([wake = wake_] {
            if (wake->is_open && !wake->is_pending.exchange(true)) glfwPostEmptyEvent();
        });
    }

    WindowFigures run()
    {
        while (!view_model_.is_leaving() && glfwWindowShouldClose(renderer_.window()) == 0) {
            hear();
            if (redraw_.is_due(now(), view_now())) draw();
            pass_on();
            sleep();
        }
        pass_on();  // what was done in the very last moment
        ports_.set_wake({});
        wake_->is_open = false;
        return figures_;
    }

private:
    void press(int glfw_key, int action)
    {
        if (action != GLFW_RELEASE && glfw_key == GLFW_KEY_V && renderer_.is_held(Held::control)) {
            return paste();
        }
        if (action == GLFW_PRESS && renderer_.is_held(Held::control)) return command(glfw_key);
        auto key = key_of(glfw_key);
        if (key == Key::tab && renderer_.is_held(Held::shift)) key = Key::shift_tab;
        if (!key || action == GLFW_RELEASE) return;
        if (action == GLFW_REPEAT && !may_repeat(*key)) return;
        act(*key);
    }

    // A letter with Ctrl: a key of the page, also where text is being typed.
    void command(int glfw_key)
    {
        const char* name = glfwGetKeyName(glfw_key, 0);
        if (name == nullptr || view_model_.screen() != Screen::page) return;
        auto event = page_event_of(static_cast<unsigned char>(*name));
        auto* pressed = event ? std::get_if<PressKey>(&*event) : nullptr;
        if (pressed == nullptr) return;
        pressed->with = WithKey::control;
        view_model_.apply(*event);
    }

    void paste()
    {
        if (view_model_.is_typing()) view_model_.type(renderer_.clipboard());
    }

    void drop(const std::string& path) { view_model_.drop(path); }

    void type(unsigned int character)
    {
        if (view_model_.screen() == Screen::page) {
            if (view_model_.is_typing()) return view_model_.type(utf8_of(character));
            if (const auto event = page_event_of(character)) view_model_.apply(*event);
            return;
        }
        if (const auto key = key_of_character(character)) act(*key);
    }

    void turn(double up) { act(up > 0.0 ? Key::page_up : Key::page_down); }

    void act(Key key)
    {
        if (const auto event = event_of(key, view_model_.screen())) view_model_.apply(*event);
    }

    void hear()
    {
        wake_->is_pending = false;
        for (const Update& update : ports_.take_updates()) view_model_.apply(update);
        if (ports_.take_answers) {
            for (const Answer& answer : ports_.take_answers()) view_model_.apply(answer);
        }
        if (ports_.today) view_model_.apply(DayIs{ports_.today()});
        view_ = view_model_.view();
    }

    Seconds now() const { return Clock::now() - opened_at_; }
    Redraw::View view_now() const
    {
        return view_ == drawn_ ? Redraw::View::as_drawn : Redraw::View::changed;
    }

    void draw()
    {
        const Seconds begin = now();
        const FrameOutput output = renderer_.draw(view_);
        renderer_.show();
        redraw_.on_drawn(begin);
        drawn_ = view_;
        figures_.drawing += now() - begin;
        ++figures_.frames;
        view_model_.saw(output.seen);
        for (const Event& event : output.events) view_model_.apply(event);
        view_ = view_model_.view();
    }

    void pass_on()
    {
        for (Command& command : view_model_.take_commands()) ports_.post(std::move(command));
        for (Asked& asked : view_model_.take_requests()) {
            if (ports_.ask) ports_.ask(std::move(asked));
        }
        if (const auto text = view_model_.take_copied()) renderer_.set_clipboard(*text);
        if (view_model_.preferences() == remembered_) return;
        remembered_ = view_model_.preferences();
        if (ports_.remember) ports_.remember(remembered_);
    }

    void sleep() const
    {
        const Seconds longest = redraw_.until_due(now(), view_now());
        if (longest <= Seconds{0.0}) {
            glfwPollEvents();
        } else {
            glfwWaitEventsTimeout(longest.count());
        }
    }

    Renderer& renderer_;
    const WindowPorts& ports_;
    ViewModel view_model_;
    Preferences remembered_;
    std::shared_ptr<Wake> wake_ = std::make_shared<Wake>();
    WindowView view_;
    WindowView drawn_;
    Redraw redraw_;
    const Clock::time_point opened_at_ = Clock::now();
    WindowFigures figures_;
};

}  // namespace

Result<WindowFigures> run_window(const WindowRun& run, const WindowPorts& ports)
{
    auto renderer = Renderer::open({.width = run.width, .height = run.height});
    if (!renderer) return renderer.error();
    Window window{*renderer.value(), run, ports};
    return window.run();
}

}  // namespace holdwell
