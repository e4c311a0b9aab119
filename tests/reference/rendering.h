#pragma once
// Sounds made at test time by programs of others, at known pitch.

#include <string>
#include <vector>

#include "app/files/recording.h"
#include "dsp/listener.h"

namespace holdwell::test {

// A folder of its own that is removed with everything in it.
class ScratchFolder {
public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    std::string path_of(const std::string& name) const;

private:
    std::string path_;
};

// Runs a program without a shell's help; its output goes nowhere. True when it ends with status 0.
bool run_program(const std::vector<std::string>& words);

void write_file(const std::string& path, const std::string& bytes);

// Silence of half a second before and a second after, as in a recording.
Recording with_rests(Recording recording);

// A sung vowel by csound's fof opcode (formant wave functions), 48 kHz.
Recording render_csound_vowel(Hertz f0, Seconds length);
// One note of a General MIDI program (53: choir, 54: voice "ooh") by fluidsynth, 48 kHz, no
// effects.
Recording render_general_midi(int program, int midi_note, Seconds length);
// Speech by espeak-ng.
Recording render_speech(const std::string& voice, const std::string& text);
// sox synth, e.g. {"sine", "349.23"}, 44.1 kHz.
Recording render_sox(const std::vector<std::string>& synth, Seconds length);

Heard heard_in(const Recording& recording, const ListeningTask& task);

}  // namespace holdwell::test
