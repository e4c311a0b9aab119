// Any bytes given to the reader of plans: it may refuse them with sentences, but not crash or hang.
// A plan that it takes can be practised, and comes back from its own file as it was.
//
// Run by tests/run.sh with clang's libFuzzer; the corpus it starts from is assets/plans.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "app/files/plan_file.h"

namespace {

using namespace holdwell;

void check_refusal(const PlanReading& read)
{
    if (read.faults.empty()) std::abort();
    for (const Fault& fault : read.faults)
        if (fault.sentence.empty() || in_words(fault).find('\n') != std::string::npos) std::abort();
}

void check_plan(const Plan& plan)
{
    if (!faults_of(plan).empty()) std::abort();
    const PlanReading again = read_plan(as_json(plan));
    if (!again.plan || !(*again.plan == plan)) std::abort();
    if (trials_of(plan).empty()) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size)
{
    const std::string_view text{reinterpret_cast<const char*>(bytes), size};
    const PlanReading read = read_plan(text);
    if (read.plan)
        check_plan(*read.plan);
    else
        check_refusal(read);
    return 0;
}
