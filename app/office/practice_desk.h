#pragma once
// What is done while practising: kept on disk, or in memory until it can be.

#include "app/office/client_desk.h"

namespace holdwell {

Answer answer(Desk& desk, const LoadHome& request);
Answer answer(Desk& desk, const SetHome& request);
Answer answer(Desk& desk, const BeginPractice& request);
Answer answer(Desk& desk, const KeepTrial& request);
Answer answer(Desk& desk, const ClosePractice& request);
Answer answer(Desk& desk, const KeepByHand& request);

}  // namespace holdwell
