// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_reader.h"

#include <string_view>

#include "base/error.h"
#include "music/musicxml_archive.h"
#include "music/musicxml_document.h"
#include "music/musicxml_playback.h"
#include "music/musicxml_score.h"

namespace combwright::music {

Tune read_musicxml(std::span<const std::uint8_t> bytes, const std::string& name) {
  musicxml::ScoreFile file{name, {}};
  std::string_view text(reinterpret_cast<const char*>(bytes.data()), bytes.size());
  if (musicxml::is_archive(bytes)) {
    file = musicxml::unpack_score(bytes, name);
    text = file.bytes;
  }
  const musicxml::Document document(text, file.name);
  return musicxml::play(musicxml::read_score(document), file.name);
}

}  // namespace combwright::music
