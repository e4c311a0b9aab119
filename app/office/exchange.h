#pragma once
// What goes out to files and comes in from them. Files are whole or not there (written beside,
// fsync, rename), readable by their owner alone, and never written over.
//
// State: what was last previewed, until it is confirmed.

#include <memory>
#include <optional>
#include <string>

#include "app/office/office.h"
#include "app/office/requests.h"
#include "app/store/store.h"

namespace holdwell {

class Exchange {
public:
    explicit Exchange(const OfficeSettings& settings);
    ~Exchange();
    Exchange(const Exchange&) = delete;
    Exchange& operator=(const Exchange&) = delete;

    Answer answer(Store& store, const ExportPlan& request);
    Answer answer(Store& store, const ExportPractices& request);
    Answer answer(Store& store, const WriteTable& request);
    Answer answer(Store& store, const FindFiles& request);
    Answer answer(Store& store, const PreviewImport& request);
    // Refused when nothing was previewed, or the records changed since in a way that matters.
    Answer answer(Store& store, const ConfirmImport& request);

private:
    struct State;
    std::unique_ptr<State> state_;
};

// Writes `bytes` to `wanted`, or, where that is taken, to the same name with a number; mode 0600.
// The path written to.
Result<std::filesystem::path> write_new_file(const std::filesystem::path& wanted,
                                             const std::string& bytes);

}  // namespace holdwell
