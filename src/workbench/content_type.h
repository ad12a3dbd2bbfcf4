// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

namespace combwright::workbench {

// The media type of a file by its ending; that of any bytes for an ending that is not known.
std::string_view content_type(std::string_view name);

}  // namespace combwright::workbench
