#include "app/cli/help_text.h"

namespace holdwell {

const std::string_view kPlanHelp =
    R"(Plans: what a therapist prescribes, as a file or as it is in force for a client.

  holdwell plan check FILE...      whether plan files can be practised, and what is wrong if not
  holdwell plan show FILE          a plan file in plain lines
  holdwell plan show --client CODE the plan in force of a client
  holdwell plan templates          plans to begin from
  holdwell plan new TEMPLATE       a new plan file on standard output, from a template

  --client CODE     whose plan [the only client there is]
  --format FORM     templates: text, csv or json (one object a line) [text]
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

Examples:
  holdwell plan new 1 > my-plan.json
  holdwell plan check my-plan.json
  holdwell import my-plan.json

The fields of a plan file are described in plan.schema.json.
)";

const std::string_view kClientHelp =
    R"(Clients: who is in the records.

  holdwell client list             who is here, and who practised lately
  holdwell client add CODE         a new client; a code, not a name
  holdwell client archive CODE     kept, but left out of lists
  holdwell client restore CODE     back from the archive
  holdwell client delete CODE      with all her plans, practices, trials and recordings, for good

  --all             list: archived clients, too
  --only WHO        list: those who are not-practised, near-goal or discomfort [everybody]
  --yes             delete: without it nothing is deleted
  --format FORM     list: text, csv or json (one object a line) [text]
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

not-practised: not once in seven days, though it is asked for. near-goal: the week's mean hold is
at 85 % of the goal or above. discomfort: reported after a practice of these days.
)";

const std::string_view kPracticeHelp =
    R"(Practices: what was done, one line each, oldest first.

  holdwell practice list

  --client CODE     whose practices [the only client there is]
  --format FORM     text, csv or json (one object a line) [text]
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

"holdwell export table" writes every trial with all its measures.
)";

const std::string_view kExportHelp =
    R"(Writes a file to hand over or to keep. A file that is there already is never written over: the
new one gets a number. The path is printed, and what the file holds.

  holdwell export plan             the plan in force, for the client
  holdwell export practices        all of a client: plans, practices and trials, for the therapist
  holdwell export table            every trial as a row of CSV, for a spreadsheet

  --client CODE     whose [the only client there is]
  --out PATH        a file, or a folder for a file of the usual name [your documents]
  --day-numbers     days counted from the first practice instead of dates; practices and table
  --with-voice      the recordings that were kept, too; practices
  --passphrase-file FILE
                    seal it under the passphrase in the first line of FILE; plan and practices
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

Examples:
  holdwell export practices --out /media/stick
  holdwell export table --client C-17 --day-numbers --out c17.csv

Dates and recordings of a voice identify a person. There is no way back into a sealed file whose
passphrase is forgotten.
)";

const std::string_view kImportHelp =
    R"(Takes in a file that was handed over: a plan, or a client's practices. Says first what it would
change; changes it only with --yes. Taking in the same file twice changes nothing, and nothing that
is here is ever replaced by something else.

  holdwell import FILE

  --yes             do it
  --client CODE     whose it is [found by its ids; a plan: whoever practises on this computer]
  --day-one DATE    for a file that counts days: the date of its day 1, such as 2026-03-09
  --passphrase-file FILE
                    for a sealed file: its passphrase is the first line of FILE
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

Examples:
  holdwell import practices.json
  holdwell import practices.json --yes
)";

const std::string_view kReportHelp =
    R"(Writes a report of one or two pages as PDF, for the chart: how often, how long, how near, how it
began; no diagnosis.

  holdwell report

  --client CODE     whose [the only client there is]
  --from DATE       the first day, such as 2026-03-09 [the first practice]
  --until DATE      the last day [today]
  --name NAME       her name on the report [her code alone]
  --day-numbers     days counted from the first practice instead of dates
  --out PATH        a file, or a folder for a file of the usual name [your documents]
  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page
)";

const std::string_view kRecordsHelp =
    R"(Says where the records are on this computer, and how much they hold.

  holdwell records

  --data FOLDER     where the records are [your own data folder]
  -h, --help        this page

Everything that Holdwell keeps is in this folder; deleting it deletes all of it.
)";

}  // namespace holdwell
