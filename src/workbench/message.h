// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

// What goes over the wire, without HTTP's own concerns.
namespace combwright::workbench {

struct Request {
  std::string method;
  std::string path;  // decoded, without a query
  std::string body;
  std::string if_match;  // the version that the page knows of a file; empty without one
  std::string accept_encoding;
};

struct Reply {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::string version;         // of a file; empty without one
  std::string encoding;        // of the body; empty for none
  bool kept_for_ever = false;  // by the browser
};

}  // namespace combwright::workbench
