#pragma once
// `holdwell client list`, `add`, `archive`, `restore` and `delete`; `holdwell practice list`;
// `holdwell records`.

#include "app/cli/records_run.h"

namespace holdwell {

ExitStatus list_clients(RecordsRun& run);
ExitStatus add_client(RecordsRun& run);
ExitStatus archive_client(RecordsRun& run);
ExitStatus restore_client(RecordsRun& run);
// Asks for --yes.
ExitStatus delete_client(RecordsRun& run);

ExitStatus list_practices(RecordsRun& run);

// Where the records are, and what they hold.
ExitStatus describe_records(RecordsRun& run);

}  // namespace holdwell
