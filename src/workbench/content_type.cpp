// SPDX-License-Identifier: Apache-2.0
#include "workbench/content_type.h"

#include <algorithm>
#include <array>
#include <utility>

namespace combwright::workbench {

std::string_view content_type(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 13> types{
      {{".css", "text/css; charset=utf-8"},
       {".csv", "text/csv; charset=utf-8"},
       {".dxf", "image/vnd.dxf"},
       {".html", "text/html; charset=utf-8"},
       {".js", "text/javascript; charset=utf-8"},
       {".json", "application/json"},
       {".mid", "audio/midi"},
       {".ngc", "text/plain; charset=utf-8"},
       {".pdf", "application/pdf"},
       {".svg", "image/svg+xml"},
       {".toml", "application/toml"},
       {".txt", "text/plain; charset=utf-8"},
       {".wav", "audio/wav"}}};
  const auto* const found = std::find_if(
      types.begin(), types.end(), [&](const auto& type) { return name.ends_with(type.first); });
  return found == types.end() ? "application/octet-stream" : found->second;
}

}  // namespace combwright::workbench
