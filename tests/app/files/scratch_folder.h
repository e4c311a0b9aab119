#pragma once
// A folder of its own for one test, removed afterwards.

#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <string>

namespace holdwell::test {

class ScratchFolder {
public:
    ScratchFolder()
    {
        static std::atomic<int> count{0};
        path_ = std::filesystem::temp_directory_path() /
                ("holdwell-test-" + std::to_string(getpid()) + "-" + std::to_string(count++));
        std::filesystem::create_directories(path_);
    }
    ~ScratchFolder()
    {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;

    std::string path(const std::string& name) const { return (path_ / name).string(); }

    // The path of a new file that holds `bytes`.
    std::string file(const std::string& name, const std::string& bytes) const
    {
        std::ofstream{path(name), std::ios::binary} << bytes;
        return path(name);
    }

private:
    std::filesystem::path path_;
};

}  // namespace holdwell::test
