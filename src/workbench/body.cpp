// SPDX-License-Identifier: Apache-2.0
#include "workbench/body.h"

namespace combwright::workbench {
namespace {

// Takes away what would make the library unpack the body or take it apart: it stops in the middle
// of one that it can't. True if there was any.
bool taken_as_plain(const httplib::Request& request) {
  const bool packed = request.is_multipart_form_data() || request.has_header("Content-Encoding");
  // The library's own request, which it reads the body by, is not const.
  auto& headers = const_cast<httplib::Headers&>(request.headers);
  headers.erase("Content-Type");
  headers.erase("Content-Encoding");
  return packed;
}

}  // namespace

BodyEnd read_body(const httplib::Request& request, const httplib::Response& response,
                  const httplib::ContentReader& reader, std::size_t limit,
                  const std::function<void(std::string_view)>& take) {
  // Without either there is none (RFC 9112, 6.3); the library would wait for more.
  if (!request.has_header("Content-Length") && !request.has_header("Transfer-Encoding"))
    return BodyEnd::whole;
  const bool packed = taken_as_plain(request);
  std::size_t left = limit;
  bool too_large = false;
  const bool whole = reader([&](const char* bytes, std::size_t size) {
    too_large = too_large || size > left;
    if (too_large) return false;
    left -= size;
    if (!packed) take({bytes, size});
    return true;
  });
  constexpr int length_refused = 413;  // by the library, from what it says of its length
  if (too_large || response.status == length_refused) return BodyEnd::too_large;
  if (!whole) return BodyEnd::broken;
  return packed ? BodyEnd::packed : BodyEnd::whole;
}

}  // namespace combwright::workbench
