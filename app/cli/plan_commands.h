#pragma once
// `holdwell plan check`, `show`, `templates` and `new`.

#include "app/cli/records_run.h"

namespace holdwell {

// One line for each file or each of its faults.
ExitStatus check_plans(RecordsRun& run);
// Of a file, or the one in force of a client.
ExitStatus show_plan(RecordsRun& run);
ExitStatus list_templates(RecordsRun& run);
// A plan file on standard output, from a template.
ExitStatus print_new_plan(RecordsRun& run);

}  // namespace holdwell
