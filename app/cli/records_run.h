#pragma once
// What all commands on records share: the words as typed, the records themselves, and how a
// command says what it did. The same requests are answered as for the window.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/cli/console.h"
#include "app/files/listing.h"
#include "app/office/office.h"

namespace holdwell {

// As typed; empty: left out.
struct RecordsArguments {
    std::vector<std::string> words;  // files, a code, a template's name
    std::string data;                // folder of the records; empty: the person's own
    std::string client;              // code
    std::string format{"text"};
    std::string out;
    std::string passphrase_file;
    std::string from;
    std::string until;
    std::string day_one;
    std::string name;
    std::string only;  // not-practised, near-goal or discomfort; empty: everybody
    bool all{false};
    bool yes{false};
    bool day_numbers{false};
    bool with_voice{false};
};

class RecordsRun {
public:
    // `command`: "holdwell plan check", which begins every sentence on what went wrong.
    RecordsRun(std::string command, const RecordsArguments& arguments, OfficeSettings settings,
               const Console& console);

    const RecordsArguments& arguments() const { return arguments_; }
    const OfficeSettings& settings() const { return settings_; }
    // Opened when it is first needed.
    Office& office();

    void say(const std::string& line) const { console_.out << line << '\n'; }
    void print(const std::string& text) const { console_.out << text; }
    ExitStatus trouble(const std::string& sentence) const;
    ExitStatus wrong_usage(const std::string& sentence) const;

    // The answer if it is of that kind; otherwise why it is not.
    template <typename Kind>
    Result<Kind> ask(const Request& request)
    {
        Answer answer = office().answer(request);
        if (auto* wanted = std::get_if<Kind>(&answer)) return std::move(*wanted);
        if (const auto* refused = std::get_if<Refused>(&answer)) return Error{refused->sentence};
        return Error{"The records gave an answer that does not belong to the question."};
    }

    // The client of --client; without it the only one there is.
    Result<RosterLine> client();
    // Whoever has this code, capitals or not.
    Result<RosterLine> client_called(const std::string& code);

    Result<ListForm> form() const;
    // Of --passphrase-file, without the end of its line; empty when there is none.
    Result<std::string> passphrase() const;
    // An option that names a day: 2026-03-09.
    Result<std::optional<Date>> day(const char* option, const std::string& text) const;

private:
    std::string command_;
    const RecordsArguments& arguments_;
    OfficeSettings settings_;
    const Console& console_;
    std::unique_ptr<Office> office_;
};

// "1 trial", "3 trials"
std::string counted(long long n, const char* one, const char* many);

}  // namespace holdwell
