// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <string_view>

#include <httplib.h>

namespace combwright::workbench {

enum class BodyEnd {
  whole,
  too_large,
  broken,  // the client went, or what it sent is no body
  packed   // compressed, or in parts: nothing here takes that
};

// Reads the body of a request to its end, at most `limit` bytes of it, so that nothing of it is
// left in the connection, where it would be taken for the next request.
BodyEnd read_body(const httplib::Request& request, const httplib::Response& response,
                  const httplib::ContentReader& reader, std::size_t limit,
                  const std::function<void(std::string_view)>& take);

}  // namespace combwright::workbench
