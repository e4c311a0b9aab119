#pragma once
// One recording from file to measures: read a block, push it, until the end.

#include <string>

#include "app/base/result.h"
#include "app/files/measures.h"
#include "dsp/listener.h"

namespace holdwell {

// Never fails as a whole: what went wrong stands in `error`, beside whatever could be measured.
FileMeasures measure_file(const std::string& path, const ListeningTask& task);

}  // namespace holdwell
