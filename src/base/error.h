// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>

namespace combwright {

// Where in a file something is wrong, as far as it is known: line and column (from 1) for text,
// byte offset (from 0) for binary files.
struct Place {
  std::string file;
  std::optional<std::size_t> line = std::nullopt;
  std::optional<std::size_t> column = std::nullopt;
  std::optional<std::size_t> byte = std::nullopt;
};

// "FILE:LINE:COLUMN", "FILE:byte N" or "FILE"; empty for an empty place.
std::string to_text(const Place& place);

// The one exception of this library beside Cancelled (base/watch.h): outside input or the machine
// is at fault, never the program. what() is one line: "PLACE: what is wrong; what would be right",
// with blanks for the control characters of quoted text; message() is the same without its place.
class Error : public std::runtime_error {
 public:
  enum class Kind {
    request,  // the request or a file is wrong
    machine,  // this machine would not let us: disk full, no permission
  };

  Error(const Place& place, const std::string& message, Kind kind = Kind::request);

  const Place& place() const { return place_; }
  const std::string& message() const { return message_; }
  Kind kind() const { return kind_; }

 private:
  Place place_;
  std::string message_;
  Kind kind_;
};

}  // namespace combwright
