#pragma once
// The report for the chart, as a PDF.

#include "app/office/client_desk.h"
#include "app/office/requests.h"

namespace holdwell {

Answer answer(Desk& desk, const WriteReport& request);

}  // namespace holdwell
