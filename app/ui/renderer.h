#pragma once
// An operating-system window with OpenGL in it, and the drawing of views into it. The only place,
// with window.cpp and picture.cpp, that knows GLFW and OpenGL.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/ui/font_texture.h"
#include "app/ui/frame.h"

struct GLFWwindow;

namespace holdwell {

struct RendererOptions {
    int width{1280};  // points
    int height{800};
    std::string title{"Holdwell"};
    double display_scale{0.0};  // 0: the display's own
    enum class Visibility { shown, hidden } visibility{Visibility::shown};
};

enum class Held { shift, control };

class Renderer {
public:
    // One sentence when there is no display or no OpenGL.
    static Result<std::unique_ptr<Renderer>> open(const RendererOptions& options);
    ~Renderer();
    Renderer(const Renderer&) = delete;
    Renderer& operator=(const Renderer&) = delete;

    // Called by the system with what was typed, and with anything else that asks for a new frame.
    struct Input {
        std::function<void(int key, int action)> on_key;       // GLFW's numbers
        std::function<void(unsigned int)> on_character;        // as typed, in the person's layout
        std::function<void(double)> on_wheel;                  // up positive
        std::function<void(const std::string& path)> on_drop;  // a file let go over the window
        std::function<void()> on_change;
    };
    void set_input(Input input);

    // Drawn out of sight; show() puts it on the screen.
    FrameOutput draw(const WindowView& view);
    void show();
    // What was drawn and not yet shown: RGB, top row first.
    struct Picture {
        int width{0};
        int height{0};
        std::vector<unsigned char> rgb;
    };
    Picture picture() const;
    GLFWwindow* window() const { return window_; }
    bool is_held(Held key) const;
    std::string clipboard() const;
    void set_clipboard(const std::string& text);

private:
    Renderer() = default;
    void fit_fonts(int text_percent, float height);
    double display_scale() const;

    GLFWwindow* window_{nullptr};
    FontPaths font_paths_;
    FontSet fonts_;
    FontTexture font_texture_;
    FontScale built_scale_{.text = 0.0};
    double forced_scale_{0.0};
    Shade system_shade_{Shade::light};
    Input input_;
};

}  // namespace holdwell
