#pragma once
// The commands on records: their words, their options, and what each of them runs.

#include <memory>
#include <string>
#include <vector>

#include "app/cli/console.h"
#include "app/office/office.h"

namespace CLI {
class App;
}

namespace holdwell {

class RecordsCommands {
public:
    // Adds them to the program's.
    explicit RecordsCommands(CLI::App& program);
    ~RecordsCommands();
    RecordsCommands(const RecordsCommands&) = delete;
    RecordsCommands& operator=(const RecordsCommands&) = delete;

    // One of them was typed.
    bool is_chosen() const;
    ExitStatus run(const Console& console, OfficeSettings settings) const;
    // For a command that was typed without a word that it needs: what is missing, and an example.
    // Empty for commands that are not ours.
    std::string sentence_on_missing(const std::string& command) const;
    // What may stand after "holdwell plan": check, show ...; none for a command without verbs.
    std::vector<std::string> verbs_of(const std::string& command) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
