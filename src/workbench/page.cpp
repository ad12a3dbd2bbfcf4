// SPDX-License-Identifier: Apache-2.0
#include "workbench/page.h"

#include <algorithm>
#include <array>
#include <string>

#include "workbench/content_type.h"

namespace combwright::workbench {
namespace {

constexpr std::array<std::string_view, 8> views{"/",     "/box",   "/tune",  "/disc",
                                                "/comb", "/bench", "/motor", "/records"};

bool takes_gzip(const Request& request) {
  return request.accept_encoding.find("gzip") != std::string::npos;
}

}  // namespace

Reply page(const Request& request) {
  const bool view = std::find(views.begin(), views.end(), request.path) != views.end();
  const std::string_view wanted = view ? "/index.html" : std::string_view(request.path);
  const auto files = page_files();
  const auto found = std::find_if(files.begin(), files.end(),
                                  [&](const PageFile& file) { return file.path == wanted; });
  if (found == files.end())
    return {.status = 404, .type = "text/plain; charset=utf-8", .body = "There is no such page.\n"};
  const bool gzip = takes_gzip(request);
  Reply reply{.type = std::string(content_type(found->path)),
              .body = std::string(gzip ? found->compressed : found->bytes)};
  if (gzip) reply.encoding = "gzip";
  // The names of assets change with what is in them.
  reply.kept_for_ever = wanted.starts_with("/assets/");
  return reply;
}

}  // namespace combwright::workbench
