// Who may include whom: every #include of dsp and app is read and held against this table. It says
// what each folder is allowed to know, and so what a newcomer needs to read to change it.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

const fs::path kRoot{HOLDWELL_SOURCE_DIR};

using Names = std::set<std::string>;

struct Permission {
    std::string folder;
    Names folders;    // of ours; its own folder goes without saying
    Names libraries;  // beginnings of the names in <...>, besides the standard library
};

// System headers of C and POSIX that every folder may use are in kStandard.
const std::vector<Permission> kTable{
    {"dsp", {}, {"aubio/"}},
    {"app/base", {}, {}},
    {"app/practice", {"dsp", "app/base"}, {"fmt/"}},
    {"app/engine", {"dsp", "app/base", "app/practice"}, {"readerwriterqueue"}},
    {"app/audio",
     {"dsp", "app/base", "app/engine", "app/files"},
     {"portaudio.h", "pa_linux_alsa.h", "alsa/", "fmt/"}},
    {"app/files",
     {"dsp", "app/base", "app/practice"},
     {"sndfile.h", "nlohmann/", "sodium.h", "fmt/"}},
    {"app/store", {"dsp", "app/base", "app/practice"}, {"SQLiteCpp/", "sqlite3.h", "fmt/"}},
    {"app/report", {"dsp", "app/base", "app/practice"}, {"cairo", "pango/", "fmt/"}},
    {"app/office",
     {"dsp", "app/base", "app/practice", "app/files", "app/store", "app/report"},
     {"fmt/"}},
    {"app/pages", {"dsp", "app/base", "app/practice", "app/office"}, {"fmt/"}},
    {"app/ui",
     {"dsp", "app/base", "app/practice", "app/engine", "app/office", "app/pages"},
     {"imgui", "backends/imgui", "GLFW/", "GL/", "fontconfig/", "png.h", "fmt/"}},
    {"app/cli",
     {"dsp", "app/base", "app/practice", "app/engine", "app/files", "app/office"},
     {"CLI/", "fmt/"}},
    // main.cpp wires, and is the only file beside these folders.
    {"app",
     {"app/cli", "app/ui", "app/pages", "app/audio", "app/engine", "app/office", "app/files",
      "app/base"},
     {}},
};

const Names kStandard{
    "algorithm", "array", "atomic", "bit", "bitset", "cassert", "cctype", "cerrno", "cfloat",
    "charconv", "chrono", "cinttypes", "climits", "clocale", "cmath", "compare", "complex",
    "concepts", "condition_variable", "csignal", "cstdarg", "cstddef", "cstdint", "cstdio",
    "cstdlib", "cstring", "ctime", "deque", "exception", "filesystem", "fstream", "functional",
    "future", "initializer_list", "iomanip", "ios", "iosfwd", "iostream", "istream", "iterator",
    "limits", "list", "locale", "map", "memory", "memory_resource", "mutex", "new", "numbers",
    "numeric", "optional", "ostream", "queue", "random", "ranges", "ratio", "semaphore", "set",
    "shared_mutex", "span", "sstream", "stdexcept", "stop_token", "streambuf", "string",
    "string_view", "system_error", "thread", "tuple", "type_traits", "typeinfo", "unordered_map",
    "unordered_set", "utility", "variant", "vector", "version",
    // POSIX
    "unistd.h", "fcntl.h", "dlfcn.h", "poll.h", "pthread.h", "sched.h", "signal.h", "sys/stat.h",
    "sys/file.h", "sys/types.h", "sys/resource.h", "sys/wait.h", "termios.h"};

struct Include {
    fs::path file;
    std::string name;
    bool ours{false};  // "..." rather than <...>
};

std::vector<Include> includes_of(const fs::path& file)
{
    std::vector<Include> found;
    std::ifstream in{file};
    for (std::string line; std::getline(in, line);) {
        const std::size_t open = line.find_first_of("\"<");
        if (!line.starts_with("#include") || open == std::string::npos) continue;
        const std::size_t close = line.find_first_of("\">", open + 1);
        found.push_back({file, line.substr(open + 1, close - open - 1), line[open] == '"'});
    }
    return found;
}

std::string folder_of(const fs::path& file)
{
    return file.lexically_relative(kRoot).parent_path().generic_string();
}

const Permission* permission_of(const std::string& folder)
{
    const auto found = std::ranges::find(kTable, folder, &Permission::folder);
    return found == kTable.end() ? nullptr : &*found;
}

bool is_allowed(const Include& include, const Permission& permission)
{
    if (include.ours) {
        const std::string folder = fs::path{include.name}.parent_path().generic_string();
        return folder == permission.folder || permission.folders.contains(folder);
    }
    if (kStandard.contains(include.name)) return true;
    return std::ranges::any_of(permission.libraries, [&](const std::string& library) {
        return include.name.starts_with(library);
    });
}

std::vector<fs::path> sources()
{
    std::vector<fs::path> files;
    for (const char* top : {"dsp", "app"}) {
        for (const auto& entry : fs::recursive_directory_iterator{kRoot / top}) {
            const std::string extension = entry.path().extension().string();
            if (extension == ".h" || extension == ".cpp") files.push_back(entry.path());
        }
    }
    return files;
}

}  // namespace

TEST_CASE("every include is allowed by the table of who may include whom")
{
    std::size_t checked = 0;
    for (const fs::path& file : sources()) {
        const std::string folder = folder_of(file);
        CAPTURE(file.string());
        const Permission* permission = permission_of(folder);
        REQUIRE_MESSAGE(permission != nullptr, "a folder that the table does not know: ", folder);
        for (const Include& include : includes_of(file)) {
            CHECK_MESSAGE(is_allowed(include, *permission), folder, " may not include ",
                          include.name);
            ++checked;
        }
    }
    CHECK(checked > 100);  // the sources were really read
}

TEST_CASE("each third-party library has one folder, formatting aside")
{
    std::map<std::string, Names> folders_of_library;
    for (const Permission& permission : kTable) {
        for (const std::string& library : permission.libraries) {
            if (library != "fmt/") folders_of_library[library].insert(permission.folder);
        }
    }
    for (const auto& entry : folders_of_library) {
        CAPTURE(entry.first);
        CHECK(entry.second.size() == 1);
    }
}

TEST_CASE("the table refuses what it should refuse")
{
    const Permission& ui = *permission_of("app/ui");
    CHECK_FALSE(is_allowed({{}, "portaudio.h", false}, ui));
    CHECK_FALSE(is_allowed({{}, "app/audio/devices.h", true}, ui));
    const Permission& dsp = *permission_of("dsp");
    CHECK_FALSE(is_allowed({{}, "app/base/result.h", true}, dsp));
    CHECK(is_allowed({{}, "dsp/units.h", true}, dsp));
}

TEST_CASE("no two headers define a type of the same name, which a linker would silently merge")
{
    std::map<std::string, Names> headers_of_type;
    const std::regex definition{"^(struct|class|enum class) ([A-Za-z0-9_]+)[^;]*\\{.*"};
    for (const fs::path& file : sources()) {
        if (file.extension() != ".h") continue;
        std::ifstream in{file};
        for (std::string line; std::getline(in, line);) {
            std::smatch match;
            if (std::regex_match(line, match, definition))
                headers_of_type[match[2].str()].insert(file.lexically_relative(kRoot).string());
        }
    }
    CHECK(headers_of_type.size() > 50);
    for (const auto& entry : headers_of_type) {
        const auto& type = entry.first;
        const auto& headers = entry.second;
        CAPTURE(type);
        CHECK_MESSAGE(headers.size() == 1, *headers.begin(), " and ", *headers.rbegin());
    }
}
