// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright::workbench {

// The bytes of a text in base 64 (RFC 4648, section 4, padded). Throws Error if it is none.
std::string from_base64(std::string_view text);

}  // namespace combwright::workbench
