#pragma once
// The window itself: runs until the person leaves. Everything it decides is decided in ViewModel.
//
// It draws only when its view has changed or the person has done something (redraw.h); otherwise it
// sleeps.

#include <functional>
#include <memory>
#include <vector>

#include "app/base/result.h"
#include "app/engine/messages.h"
#include "app/ui/model.h"
#include "app/ui/preferences.h"

namespace holdwell {

// How the window is connected. All are called on the window's thread.
struct WindowPorts {
    std::function<void(Command)> post;
    std::function<std::vector<Update>()> take_updates;
    // Given once a function that any thread may call when updates are waiting; given an empty one
    // before the window closes.
    std::function<void(std::function<void()>)> set_wake;
    // Called when something that is to be remembered has changed.
    std::function<void(const Preferences&)> remember;
    // Of the records; both empty when there are none.
    std::function<void(Asked)> ask{};
    std::function<std::vector<Answer>()> take_answers{};
    std::function<std::unique_ptr<Page>()> first_page{};  // with OpensOn::page
    std::function<Date()> today{};                        // of the records; asked on every wake
};

struct WindowRun {
    WindowOptions options;
    Preferences preferences;
    int width{1280};  // points
    int height{800};
};

// What drawing has cost, for whoever measures it.
struct WindowFigures {
    int frames{0};
    Seconds drawing{};  // all of our own frame code and the renderer's
};

// [ui] Blocks until the window is closed. An error when there is no display or no OpenGL.
Result<WindowFigures> run_window(const WindowRun& run, const WindowPorts& ports);

}  // namespace holdwell
