#pragma once
// What left this computer is noted with the client: a health record is expected to know it.

#include "app/office/client_desk.h"

namespace holdwell {

// `answer` to `request`, noted when it is a file that was written for somebody else to read. What
// could not be noted is said with the file; the file is there all the same.
Answer noted(Desk& desk, const Request& request, Answer answer);

}  // namespace holdwell
