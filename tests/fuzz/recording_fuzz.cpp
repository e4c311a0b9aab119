// Any bytes given to the reader of recordings: it may refuse them, but not crash, hang, or hand out
// a sample that is no number.
//
// Run by tests/run.sh with clang's libFuzzer; the corpus it starts from is written by
// make_corpus.cpp.

#include <unistd.h>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "app/files/recording.h"

namespace {

// Written over for every input; in memory where the system has such a folder.
const std::string& scratch_file()
{
    static const std::string path = [] {
        const char* folder = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
        return std::string{folder} + "/holdwell-fuzz-" + std::to_string(getpid()) + ".wav";
    }();
    return path;
}

bool write_input(const std::uint8_t* bytes, std::size_t size)
{
    std::FILE* file = std::fopen(scratch_file().c_str(), "wb");
    if (file == nullptr) return false;
    const bool written = std::fwrite(bytes, 1, size, file) == size;
    return std::fclose(file) == 0 && written;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size)
{
    if (!write_input(bytes, size)) std::abort();
    auto opened = holdwell::RecordingReader::open(scratch_file());
    if (!opened) {
        // Whatever is wrong is told in one line that names the file.
        const std::string& message = opened.error().message;
        if (!message.starts_with(scratch_file()) || message.find('\n') != std::string::npos)
            std::abort();
        return 0;
    }
    holdwell::RecordingReader& reader = opened.value();
    std::vector<float> block(4096);
    // A small file can promise hours of silence: a few blocks of it show as much.
    for (int i = 0; i < 64; ++i) {
        const std::size_t got = reader.read(block);
        for (std::size_t k = 0; k < got; ++k)
            if (!std::isfinite(block[k])) std::abort();
        if (got < block.size()) break;
    }
    (void)reader.shortfall();
    return 0;
}
