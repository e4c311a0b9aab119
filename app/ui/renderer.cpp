#include "app/ui/renderer.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/ui/system_shade.h"

namespace holdwell {
namespace {

// GLFW's own words are kept for the sentence; nothing is printed by itself.
std::string& last_complaint()
{
    static std::string complaint;
    return complaint;
}
void keep_complaint(int /*code*/, const char* words) { last_complaint() = words; }

Renderer::Input& input_of(GLFWwindow* window)
{
    return *static_cast<Renderer::Input*>(glfwGetWindowUserPointer(window));
}

void notify(GLFWwindow* window)
{
    if (const auto& on_change = input_of(window).on_change) on_change();
}

void on_key(GLFWwindow* window, int key, int /*scancode*/, int action, int /*mods*/)
{
    if (const auto& f = input_of(window).on_key) f(key, action);
    notify(window);
}

void on_character(GLFWwindow* window, unsigned int character)
{
    if (const auto& f = input_of(window).on_character) f(character);
    notify(window);
}

void on_wheel(GLFWwindow* window, double /*x*/, double y)
{
    if (const auto& f = input_of(window).on_wheel) f(y);
    notify(window);
}

void on_drop(GLFWwindow* window, int count, const char** paths)
{
    const auto& f = input_of(window).on_drop;
    if (f && count > 0) f(paths[0]);
    notify(window);
}

// Set before Dear ImGui's own, which then call these.
void install_callbacks(GLFWwindow* window)
{
    glfwSetKeyCallback(window, on_key);
    glfwSetCharCallback(window, on_character);
    glfwSetScrollCallback(window, on_wheel);
    glfwSetDropCallback(window, on_drop);
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { notify(w); });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { notify(w); });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int) { notify(w); });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { notify(w); });
    glfwSetWindowRefreshCallback(window, notify);
    glfwSetWindowContentScaleCallback(window, [](GLFWwindow* w, float, float) { notify(w); });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int) { notify(w); });
}

GLFWwindow* create_window(const RendererOptions& o)
{
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    // All is drawn flat, one upon the other: buffers for depth would be 4 bytes a pixel for
    // nothing.
    glfwWindowHint(GLFW_DEPTH_BITS, 0);
    glfwWindowHint(GLFW_STENCIL_BITS, 0);
    glfwWindowHint(GLFW_VISIBLE, o.visibility == RendererOptions::Visibility::shown);
    glfwWindowHint(GLFW_SCALE_TO_MONITOR, o.display_scale == 0.0);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "holdwell");
    glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "holdwell");
    return glfwCreateWindow(o.width, o.height, o.title.c_str(), nullptr, nullptr);
}

}  // namespace

Result<std::unique_ptr<Renderer>> Renderer::open(const RendererOptions& options)
{
    auto fonts = find_fonts();
    if (!fonts) return fonts.error();
    glfwSetErrorCallback(keep_complaint);
    if (glfwInit() != GLFW_TRUE) {
        return Error{"There is no display for the window (" + last_complaint() +
                     "): use the coach in the terminal instead."};
    }
    GLFWwindow* window = create_window(options);
    if (window == nullptr) {
        Error error{"The window needs OpenGL 3.3, which this display does not offer (" +
                    last_complaint() + "): use the coach in the terminal instead."};
        glfwTerminate();
        return error;
    }
    std::unique_ptr<Renderer> renderer{new Renderer};
    renderer->window_ = window;
    renderer->font_paths_ = fonts.value();
    renderer->forced_scale_ = options.display_scale;
    renderer->system_shade_ = holdwell::system_shade();
    glfwMakeContextCurrent(window);
    // The frame rate is ours: waiting for the display as well would add its delay to the voice's.
    glfwSwapInterval(0);
    glfwSetWindowSizeLimits(window, 480, 360, GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwSetWindowUserPointer(window, &renderer->input_);
    install_callbacks(window);
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui_ImplGlfw_InitForOpenGL(window, true);
    ImGui_ImplOpenGL3_Init("#version 330");
    return renderer;
}

Renderer::~Renderer()
{
    font_texture_.release();
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(window_);
    glfwTerminate();
}

void Renderer::set_input(Input input) { input_ = std::move(input); }

bool Renderer::is_held(Held key) const
{
    const int left = key == Held::shift ? GLFW_KEY_LEFT_SHIFT : GLFW_KEY_LEFT_CONTROL;
    const int right = key == Held::shift ? GLFW_KEY_RIGHT_SHIFT : GLFW_KEY_RIGHT_CONTROL;
    return glfwGetKey(window_, left) == GLFW_PRESS || glfwGetKey(window_, right) == GLFW_PRESS;
}

std::string Renderer::clipboard() const
{
    const char* text = glfwGetClipboardString(window_);
    return text == nullptr ? std::string{} : text;
}

void Renderer::set_clipboard(const std::string& text)
{
    glfwSetClipboardString(window_, text.c_str());
}

double Renderer::display_scale() const
{
    if (forced_scale_ > 0.0) return forced_scale_;
    float x = 1.0f;
    float y = 1.0f;
    glfwGetWindowContentScale(window_, &x, &y);
    return std::clamp(static_cast<double>(x), 0.5, 4.0);
}

void Renderer::fit_fonts(int text_percent, float height)
{
    const FontScale wanted = font_scale_of(text_percent, display_scale(), height);
    if (wanted == built_scale_) return;
    fonts_ = build_fonts(ImGui::GetIO().Fonts, font_paths_, wanted);
#ifndef IMGUI_HAS_TEXTURES
    ImGui_ImplOpenGL3_DestroyFontsTexture();  // that of the library, made on the first frame
    font_texture_.take(ImGui::GetIO().Fonts);
#endif
    built_scale_ = wanted;
}

FrameOutput Renderer::draw(const WindowView& view)
{
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window_, &width, &height);
    if (width == 0 || height == 0) return {};  // minimised
    ImGui_ImplOpenGL3_NewFrame();
    fit_fonts(view.text_percent, static_cast<float>(height));
    ImGui_ImplGlfw_NewFrame();
    // Everything is laid out in pixels, also where the system counts in points.
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos.x *= io.DisplayFramebufferScale.x;
    io.MousePos.y *= io.DisplayFramebufferScale.y;
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DisplayFramebufferScale = {1.0f, 1.0f};
    ImGui::NewFrame();
    const Shade shade = view.shade == ShadeWish::as_system ? system_shade_
                        : view.shade == ShadeWish::dark    ? Shade::dark
                                                           : Shade::light;
    FrameOutput output = draw_frame({.view = &view,
                                     .shade = shade,
                                     .fonts = &fonts_,
                                     .scale = built_scale_,
                                     .width = io.DisplaySize.x,
                                     .height = io.DisplaySize.y});
    ImGui::Render();
    glViewport(0, 0, width, height);
    const Colour paper = palette_of(shade).paper;
    glClearColor(static_cast<float>(paper.r) / 255.0f, static_cast<float>(paper.g) / 255.0f,
                 static_cast<float>(paper.b) / 255.0f, 1.0f);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    return output;
}

void Renderer::show() { glfwSwapBuffers(window_); }

Renderer::Picture Renderer::picture() const
{
    Picture picture;
    glfwGetFramebufferSize(window_, &picture.width, &picture.height);
    const auto row = static_cast<std::size_t>(picture.width) * 3;
    const auto rows = static_cast<std::size_t>(picture.height);
    std::vector<unsigned char> from_below(row * rows);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadBuffer(GL_BACK);
    glReadPixels(0, 0, picture.width, picture.height, GL_RGB, GL_UNSIGNED_BYTE, from_below.data());
    picture.rgb.resize(from_below.size());
    for (std::size_t y = 0; y < rows; ++y) {
        std::copy_n(from_below.begin() + static_cast<std::ptrdiff_t>((rows - 1 - y) * row), row,
                    picture.rgb.begin() + static_cast<std::ptrdiff_t>(y * row));
    }
    return picture;
}

}  // namespace holdwell
