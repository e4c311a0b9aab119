#pragma once
// What taking in a file adds to the records: a pure function of both, so that a preview can say it
// and a confirmation do it. Nothing that is here is lost.
//
// Practices and plans are the same when their ids are. A practice that is here
//   - with the same content, or with more trials of which the file's are a part: is left as it is;
//   - as a part of the file's (fewer trials, or not closed yet): the file's takes its place;
//   - with other content: both are kept, the file's under an id derived from what it holds, so that
//     taking the file in again finds it here.
// So a second time changes nothing, and the order of files does not matter but to which of two
// different contents keeps the id.

#include <optional>
#include <string>
#include <vector>

#include "app/practice/additions.h"
#include "app/practice/records.h"

namespace holdwell {

struct Merge {
    Additions additions;
    std::vector<std::string> conflicts;  // one sentence each
    int new_practices{0};
    int new_trials{0};
    int already_here{0};
    std::optional<Plan> plan;  // that comes into force
};

// `here`: the client to add to; her own id and code stay. Absent: she is new.
// `incoming` may hold records that are here under another client's name: the caller decides who
// she is.
Merge merge_of(const std::optional<ClientFile>& here, const ClientFile& incoming);

// A plan that was handed over: comes into force unless it was here before the one in force, or a
// later revision of it is here.
Merge merge_of_plan(const ClientFile& here, const Plan& plan);

// Whether all that `part` says of a practice is in `whole`, too.
bool is_part_of(const Practice& part, const Practice& whole);

}  // namespace holdwell
