// Writes the small recordings that fuzzing starts from: make_corpus FOLDER.

#include <cmath>
#include <cstdio>
#include <string>
#include <utility>

#include "app/files/recording.h"

int main(int argc, char** argv)
{
    using holdwell::Encoding;
    if (argc != 2) {
        std::fputs("make_corpus: name a folder\n", stderr);
        return 2;
    }
    holdwell::Recording tone{.samples = {}, .sample_rate = {8'000.0}};
    for (int i = 0; i < 400; ++i)
        tone.samples.push_back(0.5F * std::sin(0.3F * static_cast<float>(i)));
    const std::pair<const char*, Encoding> files[] = {{"a.wav", Encoding::wav_16_bit},
                                                      {"b.wav", Encoding::wav_24_bit},
                                                      {"c.wav", Encoding::wav_float},
                                                      {"d.flac", Encoding::flac_16_bit},
                                                      {"e.flac", Encoding::flac_24_bit}};
    for (const auto& [name, encoding] : files) {
        const auto written =
            holdwell::write_recording(std::string{argv[1]} + "/" + name, tone, encoding);
        if (written) continue;
        std::fprintf(stderr, "%s\n", written.error().message.c_str());
        return 1;
    }
    return 0;
}
