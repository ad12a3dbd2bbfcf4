// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace combwright::music::musicxml {

// A score taken out of its container; `name` is what stands in errors: "tune.mxl(score.xml)".
struct ScoreFile {
  std::string name;
  std::string bytes;
};

// True if the bytes begin as a zip archive does.
bool is_archive(std::span<const std::uint8_t> bytes);

// The score of a compressed MusicXML file: the first rootfile of META-INF/container.xml, or the
// first .musicxml or .xml entry where the container names none (W3C MusicXML 4.0, "Compressed
// .MXL Files"). Throws Error for an archive that is damaged, holds no score, or unpacks to more
// than its size makes credible.
ScoreFile unpack_score(std::span<const std::uint8_t> bytes, const std::string& name);

}  // namespace combwright::music::musicxml
