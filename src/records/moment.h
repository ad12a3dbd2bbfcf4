// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright::records {

// Throws Error (request) unless the text is a day or a moment of UTC as ISO 8601 writes it:
// "2024-05-17" or "2024-05-17T09:30:00Z". So written they are in order of time when they are in
// order of their letters.
void check_moment(std::string_view text);

}  // namespace combwright::records
