// Any bytes given to the reader of sealed files: without the passphrase nobody can make one that
// opens, so every one is refused in one sentence, and none asks for more than a test computer has.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "app/files/sealed_file.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size)
{
    std::string text{bytes, bytes + size};
    // A cost that a changed file asks for is paid before it can be refused: here, the least.
    if (holdwell::is_sealed(text) && text.size() >= 22)
        text.replace(10, 12, std::string("\x01\0\0\0\0\x20\0\0\0\0\0\0", 12));
    const auto opened = holdwell::unseal(text, "correct horse battery");
    if (opened) std::abort();
    const std::string& sentence = opened.error().message;
    if (sentence.empty() || sentence.find('\n') != std::string::npos) std::abort();
    return 0;
}
