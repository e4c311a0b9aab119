#pragma once
// What is done with clients and their plans: by the therapist, so on disk or not at all.

#include <optional>

#include "app/office/incoming.h"
#include "app/office/keeper.h"
#include "app/office/office.h"
#include "app/office/requests.h"

namespace holdwell {

// What a desk works with.
struct Desk {
    const OfficeSettings& settings;
    Keeper& keeper;
    std::optional<Incoming> previewed{};  // until it is confirmed
};

Answer answer(Desk& desk, const ListClients& request);
Answer answer(Desk& desk, const OpenClient& request);
Answer answer(Desk& desk, const AddClient& request);
Answer answer(Desk& desk, const ChangeClient& request);
Answer answer(Desk& desk, const DeleteClient& request);
Answer answer(Desk& desk, const DeleteClips& request);
Answer answer(Desk& desk, const SavePlan& request);
Answer answer(Desk& desk, const SetGoal& request);
Answer answer(Desk& desk, const WithdrawGoal& request);
Answer answer(Desk& desk, const ListTemplates& request);

// Sound that is older than the plan in force keeps it is deleted.
void let_clips_expire(Desk& desk, const ClientFile& file);

}  // namespace holdwell
