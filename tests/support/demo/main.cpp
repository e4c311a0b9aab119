// demo_sessions FOLDER: writes the recordings of demo-sessions/ and the truth beside each.

#include <fstream>
#include <iostream>

#include "app/files/recording.h"
#include "tests/support/demo_sessions.h"

namespace {

using namespace holdwell;

bool written(const test::DemoSession& session, const std::string& folder)
{
    const std::string path = folder + "/" + std::string{session.name};
    const Recording recording{session.take.samples, session.take.rate};
    const Outcome saved = write_recording(path + ".flac", recording, Encoding::flac_16_bit);
    if (!saved) {
        std::cerr << saved.error().message << '\n';
        return false;
    }
    std::ofstream truth{path + ".json"};
    truth << test::truth_as_json(session) << std::flush;
    if (!truth) std::cerr << path << ".json: cannot be written; is there room on the disk?\n";
    return truth.good();
}

}  // namespace

int main(int count, char** words)
{
    if (count != 2) {
        std::cerr << "Usage: demo_sessions FOLDER\n";
        return 2;
    }
    for (const test::DemoSession& session : test::demo_sessions())
        if (!written(session, words[1])) return 1;
    return 0;
}
