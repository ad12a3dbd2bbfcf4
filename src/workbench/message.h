// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

// What goes over the wire, without HTTP's own concerns.
namespace combwright::workbench {

struct Request {
  std::string method;
  std::string path;      // decoded, without a query
  std::string body;      // empty where an Intake takes it
  std::string if_match;  // the version that the page knows of a file; empty without one
  std::string accept_encoding;
};

struct Reply {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::string version;         // of a file; empty without one
  std::string encoding;        // of the body; empty for none
  std::string file_name;       // under which the browser keeps it; empty for what it only shows
  bool kept_for_ever = false;  // by the browser
};

// Takes a body as it comes. Destroyed before its end it leaves nothing.
class Intake {
 public:
  Intake() = default;
  Intake(const Intake&) = delete;
  Intake& operator=(const Intake&) = delete;
  virtual ~Intake() = default;

  virtual void take(std::string_view bytes) = 0;
  virtual Reply end() = 0;
};

}  // namespace combwright::workbench
