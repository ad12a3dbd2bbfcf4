// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>

#include "workbench/desk.h"
#include "workbench/message.h"

namespace combwright::workbench {

// Takes the file of PUT /api/files/NAME part by part; what is wrong is answered at its end, and
// nothing is kept of it then. The desk must outlive it.
std::unique_ptr<Intake> upload(const Desk& desk, const Request& request);

}  // namespace combwright::workbench
