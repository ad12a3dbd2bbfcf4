// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "base/watch.h"
#include "workbench/message.h"

// An answer in lines (application/x-ndjson): what is being done while it is, then the answer.
namespace combwright::workbench {

inline constexpr std::string_view lines_type = "application/x-ndjson";

// {"doing": ...}
std::string doing_line(const std::string& doing);

// {"answer": ...} of JSON; {"type", "bytes"} before so many bytes of anything else; {"status",
// "error", "place"} where there is none.
std::string last_line(const Reply& reply);

// The other end of the line.
struct Client {
  std::function<bool(std::string_view)> write;  // false once it has gone
  std::function<bool()> there;
};

// Does the work on another thread and writes the lines as they come. Work that is stopped, because
// the client has gone or `ending` says so, ends at its next checkpoint. False if the client has not
// got all.
bool answer_in_lines(const std::function<Reply(const Watch&)>& work, const Client& client,
                     const std::function<bool()>& ending);

}  // namespace combwright::workbench
