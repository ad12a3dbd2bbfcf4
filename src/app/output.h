// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace combwright::app {

// One file that a command writes into its folder. `contents` may be called on any thread.
struct OutputFile {
  std::string name;
  std::string purpose;
  std::function<std::string()> contents;
};

// The list of a folder's files with their SHA-256 sums, as `sha256sum --check` reads it. It says
// which files are a command's own earlier output: those that still have the sum it gives.
inline constexpr std::string_view sums_name = "SHA256SUMS";

// Throws Error if writing the files would overwrite one that is not unchanged earlier output of
// this program, unless `force`; or if the folder's parent is missing.
void check_folder(const std::string& folder, const std::vector<OutputFile>& files, bool force);

// Writes the files and their list of sums: all of them or none. The folder is made if it is
// missing. Unchanged earlier output that is not among the files is taken away, so that a folder
// never mixes two discs. Throws Error as check_folder does, or if this machine can't.
void write_folder(const std::string& folder, const std::vector<OutputFile>& files, bool force);

// Throws Error if the path is a folder, or a file that does not carry this program's name in its
// first bytes, unless `force`.
void check_single(const std::string& path, bool force);

// check_single, then the file whole or not at all.
void write_single(const std::string& path, std::string_view contents, bool force);

}  // namespace combwright::app
