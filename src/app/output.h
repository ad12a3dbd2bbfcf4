// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/file_calls.h"
#include "base/watch.h"

namespace combwright::app {

// One file that a command writes into its folder. `contents` may be called on any thread.
struct OutputFile {
  std::string name;
  std::string purpose;
  std::function<std::string()> contents;
};

// The folder that a command writes, and whose disc it holds.
struct OutputFolder {
  std::string path;
  std::string box;
  std::string tune;
  bool force = false;  // overwrite what is not this program's, or another disc's
};

// The list of a folder's files with their SHA-256 sums, as `sha256sum --check` reads it. It says
// whose disc the folder holds, and which files are a command's own earlier output: those that still
// have the sum it gives.
inline constexpr std::string_view sums_name = "SHA256SUMS";

// Throws Error if the path can't be that of a folder: empty, too long, a file or below one.
void check_folder_path(const std::string& path);

// check_folder_path, and throws Error if writing the files would, without `force`, overwrite one
// that is not unchanged earlier output of this program for the same box and tune.
void check_folder(const OutputFolder& folder, const std::vector<OutputFile>& files);

// Writes the files and their list of sums: all of them or none. The folder and those above it are
// made if missing. In a folder that is there already, its files are taken away and put in one by
// one by renaming, once all new ones are on the disk; if the machine refuses any of it, what was
// done is undone. Unchanged earlier output that is not among the files is taken away, so that a
// folder never mixes two discs; other files stay. A process that is killed in that moment leaves
// no list of sums, and the old files in a hidden folder `.combwright.*` in it.
// Throws Error as check_folder does, or if this machine can't; Cancelled if stopped while the files
// were made, and then nothing was written.
void write_folder(const OutputFolder& folder, const std::vector<OutputFile>& files,
                  const FileCalls& calls = {}, const Watch& watch = {});

}  // namespace combwright::app
