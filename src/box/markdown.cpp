// SPDX-License-Identifier: Apache-2.0
#include "box/markdown.h"

#include <fmt/format.h>

namespace combwright::box {
namespace {

std::string bounds(const KeyInfo& key) {
  return key.least.empty() ? "" : fmt::format("{} to {}", key.least, key.greatest);
}

std::string when_absent(const KeyInfo& key) {
  switch (key.absent) {
    case Otherwise::required:
      return "must be given";
    case Otherwise::fallback:
      return key.otherwise.empty() ? "none" : fmt::format("`{}`", key.otherwise);
    case Otherwise::derived:
      return std::string(key.otherwise);
  }
  return {};
}

}  // namespace

std::string markdown_table(const std::vector<KeyInfo>& keys) {
  std::string table =
      "| key | write | bounds | if not given | meaning |\n"
      "| --- | --- | --- | --- | --- |\n";
  for (const KeyInfo& key : keys) {
    table +=
        fmt::format("| `{}` | {} | {} | {} | {}{} |\n", key.name, what_to_write(key), bounds(key),
                    when_absent(key), key.help, key.for_later ? " *Stored for later.*" : "");
  }
  return table;
}

std::string markdown_reference(const std::vector<SectionInfo>& sections,
                               const std::vector<KeyInfo>& keys) {
  const auto of = [&](std::string_view section) {
    std::vector<KeyInfo> own;
    for (const KeyInfo& key : keys)
      if (key.section == section) own.push_back(key);
    return own;
  };
  std::string text = "### Before the first section\n\n" + markdown_table(of(""));
  for (const SectionInfo& section : sections) {
    const auto* heading =
        section.repeated() ? "\n### `[[{}]]`\n\n{}\n\n" : "\n### `[{}]`\n\n{}\n\n";
    text += fmt::format(fmt::runtime(heading), section.name, section.help);
    text += markdown_table(of(section.name));
  }
  return text;
}

}  // namespace combwright::box
