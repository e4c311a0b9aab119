#pragma once
// The window's records: the person's own, or practice files of a folder to look around in, which
// are kept in a folder that is deleted afterwards.

#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "app/base/result.h"
#include "app/office/office_thread.h"

namespace holdwell {

class WindowRecords {
public:
    // `example`: a folder of practice files; empty: the person's own records.
    static Result<std::unique_ptr<WindowRecords>> open(const std::string& example,
                                                       std::function<void()> wake);
    ~WindowRecords();
    WindowRecords(const WindowRecords&) = delete;
    WindowRecords& operator=(const WindowRecords&) = delete;

    OfficeThread& office() { return *office_; }
    // As the records count days: an example stays on the day of its last practice.
    Date today() const { return now_().date; }

private:
    WindowRecords() = default;

    std::function<Moment()> now_;
    std::filesystem::path passing_folder_;  // empty: there is none
    std::unique_ptr<OfficeThread> office_;
};

}  // namespace holdwell
