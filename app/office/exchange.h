#pragma once
// What goes out to files and comes in from them.

#include "app/office/client_desk.h"
#include "app/office/requests.h"

namespace holdwell {

Answer answer(Desk& desk, const ExportPlan& request);
Answer answer(Desk& desk, const ExportPractices& request);
Answer answer(Desk& desk, const WriteTable& request);
Answer answer(Desk& desk, const FindFiles& request);
Answer answer(Desk& desk, const PreviewImport& request);
// Adds what was last previewed, as it stands to the records now; a second time there is nothing to
// confirm.
Answer answer(Desk& desk, const ConfirmImport& request);

}  // namespace holdwell
