#include "app/audio/library_chatter.h"

#include <array>
#include <cstddef>
#include <cstdio>
#include <mutex>
#include <string_view>

#include <dlfcn.h>
#include <sys/types.h>
#include <unistd.h>

namespace holdwell {

namespace {

// The libraries' own switches are looked up by name: they belong to ALSA and JACK, which PortAudio
// brings along or not, and which we do not link.
template <typename Function>
Function* find_function(const char* name)
{
    return reinterpret_cast<Function*>(dlsym(RTLD_DEFAULT, name));
}

extern "C" void ignore_alsa(const char*, int, const char*, int, const char*, ...) {}
extern "C" void ignore_jack(const char*) {}

void silence_alsa()
{
    using Handler = void(const char*, int, const char*, int, const char*, ...);
    if (auto* set = find_function<int(Handler*)>("snd_lib_error_set_handler")) set(&ignore_alsa);
}

void silence_jack()
{
    using Handler = void(const char*);
    for (const char* name : {"jack_set_error_function", "jack_set_info_function"}) {
        if (auto* set = find_function<void(Handler*)>(name)) set(&ignore_jack);
    }
}

#ifdef __GLIBC__
constexpr std::array<std::string_view, 4> kBeginnings{"Expression '", "PaAlsa", "ALSA lib ",
                                                      "PortAudio"};

bool is_chatter(std::string_view text)
{
    for (const std::string_view beginning : kBeginnings) {
        if (text.starts_with(beginning)) return true;
    }
    return false;
}

ssize_t write_unless_chatter(void*, const char* text, std::size_t size)
{
    if (is_chatter({text, size})) return static_cast<ssize_t>(size);
    return ::write(STDERR_FILENO, text, size);
}

// PortAudio prints its failed expressions to the C library's stderr and has no switch for it. That
// variable may be assigned (glibc manual, "Standard Streams"); std::cerr and descriptor 2 stay.
void filter_standard_error()
{
    cookie_io_functions_t functions{};
    functions.write = &write_unless_chatter;
    std::FILE* filter = fopencookie(nullptr, "w", functions);
    if (filter == nullptr) return;
    std::setvbuf(filter, nullptr, _IOLBF, BUFSIZ);  // a line at a time
    stderr = filter;
}
#else
void filter_standard_error() {}
#endif

}  // namespace

void silence_library_chatter()
{
    static std::once_flag once;
    std::call_once(once, [] {
        silence_alsa();
        silence_jack();
        filter_standard_error();
    });
}

bool sound_configuration_is_usable()
{
    using Config = void;
    auto* update = find_function<int()>("snd_config_update");
    auto* search = find_function<int(Config*, const char*, Config**)>("snd_config_search");
    auto** top = reinterpret_cast<Config**>(dlsym(RTLD_DEFAULT, "snd_config"));
    if (update == nullptr || search == nullptr || top == nullptr) return true;  // no ALSA here
    Config* device = nullptr;
    return update() >= 0 && *top != nullptr && search(*top, "pcm.default", &device) >= 0;
}

}  // namespace holdwell
