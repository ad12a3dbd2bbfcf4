// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string_view>

#include "workbench/message.h"

// The page that the program carries: what Vite makes of ui/.
namespace combwright::workbench {

struct PageFile {
  std::string_view path;  // "/index.html", "/assets/..."
  std::string_view bytes;
  std::string_view compressed;  // the same as gzip (RFC 1952)
};

// By path.
std::span<const PageFile> page_files();

// Answers a request for the page itself: its files by their names, index.html for the start and for
// the address of a view; status 404 for anything else.
Reply page(const Request& request);

}  // namespace combwright::workbench
