// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace combwright::app {

// One sound, MIDI, DXF or scale file that a command writes beside its answer.
struct SingleFile {
  std::string path;
  std::string title;   // that the file bears in its first bytes: of this tune and box
  bool force = false;  // overwrite what is not this program's, or another tune's
  std::vector<std::string> inputs = {};  // what the command reads: never overwritten
};

// Throws Error if the path is a folder, can't be, or names a file that does not bear this program's
// name and the title in its first bytes, unless `force`; or names one of the inputs.
void check_single(const SingleFile& file);

// check_single, then the file whole or not at all.
void write_single(const SingleFile& file, std::string_view contents);

}  // namespace combwright::app
