// SPDX-License-Identifier: Apache-2.0
#include "music/reader.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/error.h"
#include "music/midi_reader.h"
#include "music/musicxml_reader.h"

namespace combwright::music {
namespace {

bool is_markup(std::string_view text) {
  static constexpr std::array byte_order_marks = {
      std::string_view("\xEF\xBB\xBF"), std::string_view("\xFE\xFF"), std::string_view("\xFF\xFE")};
  for (const std::string_view mark : byte_order_marks)
    if (text.starts_with(mark)) text.remove_prefix(mark.size());
  // Zeros are half of each character in UTF-16.
  const std::size_t first = text.find_first_not_of(std::string_view("\0 \t\r\n", 5));
  return first != std::string_view::npos && text[first] == '<';
}

}  // namespace

Tune read_tune(std::span<const std::uint8_t> bytes, const std::string& name) {
  const std::string text(bytes.begin(),
                         bytes.begin() + std::min<std::ptrdiff_t>(1024, std::ssize(bytes)));
  const bool riff_midi = text.starts_with("RIFF") && text.substr(0, 12).ends_with("RMID");
  if (text.starts_with("MThd") || riff_midi) return read_midi(bytes, name);
  if (text.starts_with("PK\x03\x04") || is_markup(text)) return read_musicxml(bytes, name);
  throw Error(
      Place{.file = name},
      "not a tune; a Standard MIDI File (.mid) or MusicXML (.musicxml, .xml, .mxl) would do");
}

}  // namespace combwright::music
