#pragma once
// What taking in a file adds to the records: a pure function of both, so that a preview can say it
// and a confirmation do it. Nothing that is here is lost.
//
// Practices and plans are the same when their ids are. A practice that is here
//   - with the same content, or with more trials of which the file's are a part: is left as it is;
//   - as a part of the file's (fewer trials, or not closed yet): the file's takes its place;
//   - with other content: both are kept, the file's under an id derived from what it holds, so that
//     taking the file in again finds it here.
// A plan without models is the same as it was with them: only the one in force keeps them.
// So a second time changes nothing, and the order of files does not matter but to which of two
// different contents keeps the id.

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/practice/additions.h"
#include "app/practice/records.h"

namespace holdwell {

// Ids in a file that stand for other clients' practices and trials here.
using IdsTaken = std::set<Id>;

struct Merge {
    Additions additions;
    int new_practices{0};
    int new_trials{0};
    int already_here{0};                 // practices
    std::vector<std::string> conflicts;  // one sentence each
    std::vector<std::string> notes;
    // Where a practice was kept under a derived id, its trials' ids: from the file's to those here.
    std::map<Id, Id> trials_renamed;
    std::optional<Plan> plan() const;  // that comes into force
    bool changes_something() const { return is_change; }
    bool is_change{false};
};

// `here`: the client to add to; her id, code, standing and consent stay. Absent: she is new.
// `incoming` may bear another client's id: whose it is, the caller decides.
Merge merge_of(const std::optional<ClientFile>& here, const ClientFile& incoming,
               const IdsTaken& taken = {});

// A plan that was handed over comes into force, unless it was here before or a later revision of it
// is here.
Merge merge_of_plan(const ClientFile& here, const Plan& plan);

// Whether all that `part` says is in `whole`, too.
bool is_part_of(const Practice& part, const Practice& whole);

}  // namespace holdwell
