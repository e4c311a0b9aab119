#pragma once
// The records' one counter: takes a request, does it, gives the answer. The window asks through a
// thread of its own, the command line and the tests directly: all run this code.
//
// Wall-clock time and random ids come in here and nowhere else.

#include <filesystem>
#include <functional>
#include <memory>

#include "app/office/requests.h"

namespace holdwell {

struct OfficeSettings {
    std::filesystem::path data_folder;                // made with mode 0700 when it is missing
    std::filesystem::path templates_folder;           // plans to begin from
    std::vector<std::filesystem::path> file_folders;  // where FindFiles looks
    std::filesystem::path documents_folder;           // where what is written goes by default
    std::function<Moment()> now;
    std::function<Id()> new_id;
    Lasting lasting{Lasting::kept};
};
// The person's own folders (XDG), the system's clock and random numbers.
OfficeSettings usual_settings();

class Office {
public:
    // Never fails: records that cannot be opened are kept in memory, and every answer says so.
    explicit Office(OfficeSettings settings);
    ~Office();
    Office(const Office&) = delete;
    Office& operator=(const Office&) = delete;

    Answer answer(const Request& request);  // [any] one caller at a time

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
