// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright::app {

// One sound, MIDI, DXF or scale file that a command writes beside its answer.
struct SingleFile {
  std::string path;
  std::string title;   // that the file bears in its first bytes: of this tune and box
  bool force = false;  // overwrite what is not this program's, or another tune's
};

// Throws Error if the path is a folder, can't be, or names a file that does not bear this program's
// name and the title in its first bytes, unless `force`.
void check_single(const SingleFile& file);

// check_single, then the file whole or not at all.
void write_single(const SingleFile& file, std::string_view contents);

}  // namespace combwright::app
