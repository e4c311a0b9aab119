#pragma once
// `holdwell export plan`, `practices` and `table`; `holdwell import`; `holdwell report`.

#include "app/cli/records_run.h"

namespace holdwell {

ExitStatus export_plan(RecordsRun& run);
ExitStatus export_practices(RecordsRun& run);
ExitStatus export_table(RecordsRun& run);
// Says what it would do; does it with --yes.
ExitStatus import_file(RecordsRun& run);
ExitStatus write_report(RecordsRun& run);

}  // namespace holdwell
