// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/watch.h"
#include "workbench/desk.h"
#include "workbench/message.h"

// The same questions as the commands', the same JSON for answers: docs/workbench.md.
namespace combwright::workbench {

// Answers a request below /api/. What is wrong with the request or one of its files becomes status
// 400 with {"error", "place"}; never throws for such. Throws Cancelled if stopped.
Reply answer(const Desk& desk, const Request& request, const Watch& watch);

// Whether a request is answered beside what is being computed: live sound waits for nothing.
bool is_at_once(const Request& request);

}  // namespace combwright::workbench
