#pragma once
// A file that was handed over, read: a plan, or a client's practices.

#include <variant>

#include "app/files/practice_file.h"
#include "app/office/requests.h"

namespace holdwell {

struct Incoming {
    PreviewImport request;  // without its passphrase
    std::variant<Plan, PracticeFile> content;
    DaysInFile days{DaysInFile::dates};
};

// Nothing of a file is taken when there is a fault anywhere in it.
std::variant<Incoming, Refused> read_incoming(const PreviewImport& request);

}  // namespace holdwell
