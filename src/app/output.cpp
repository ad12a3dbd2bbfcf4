// SPDX-License-Identifier: Apache-2.0
#include "app/output.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "app/path_type.h"
#include "app/stage.h"
#include "app/sum_list.h"
#include "base/file.h"
#include "base/parallel.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;

// None of our own files is larger than that.
constexpr std::size_t largest_own_file = std::size_t{1} << 30;

fs::file_type type_of(const fs::path& path, const std::string& shown) {
  return path_type(path, shown, "name another folder");
}

bool is_there(const fs::path& path, const std::string& shown) {
  return type_of(path, shown) != fs::file_type::not_found;
}

// Folder as an absolute path without a trailing slash, so that it has a name and a parent.
fs::path resolved(const std::string& folder) {
  std::error_code problem;
  fs::path path = fs::absolute(folder, problem).lexically_normal();
  if (problem) throw file_error(folder, "write", problem, "name another folder");
  if (path.filename().empty()) path = path.parent_path();
  return path;
}

// The path itself or the nearest above it that is there.
fs::path nearest_there(fs::path path, const std::string& shown) {
  while (path.has_relative_path() && !is_there(path, shown)) path = path.parent_path();
  return path;
}

// What lies in a folder from earlier runs.
struct Earlier {
  SumList list;
  std::vector<std::string> files;  // of the list, as they were written
};

bool still_has_sum(const std::string& path, const std::string& sum) {
  std::error_code problem;
  return fs::is_regular_file(path, problem) && fs::file_size(path, problem) <= largest_own_file &&
         sha256(as_text(read_file(path, largest_own_file))) == sum;
}

Earlier earlier_output(const fs::path& folder) {
  Earlier earlier;
  std::error_code problem;
  if (!fs::is_regular_file(folder / sums_name, problem)) return earlier;
  earlier.list = read_sum_list(as_text(read_file((folder / sums_name).string())));
  for (const auto& [name, sum] : earlier.list.sums)
    if (still_has_sum((folder / name).string(), sum)) earlier.files.push_back(name);
  return earlier;
}

void check_overwriting(const OutputFolder& folder, const Earlier& earlier,
                       const std::vector<OutputFile>& files) {
  for (const OutputFile& file : files) {
    const std::string path = (fs::path(folder.path) / file.name).string();
    const bool own =
        std::find(earlier.files.begin(), earlier.files.end(), file.name) != earlier.files.end();
    if (!own && is_there(path, path)) {
      throw Error({.file = path},
                  "is there already and is not as this program wrote it; choose another folder or "
                  "give --force");
    }
  }
  if (!earlier.files.empty() && !is_of(earlier.list, folder)) {
    throw Error({.file = folder.path},
                fmt::format("holds the disc of \"{}\" for the box \"{}\"; choose another folder or "
                            "give --force",
                            earlier.list.tune, earlier.list.box));
  }
}

// The files and their list, made on all cores, written into a folder that takes them for now.
void write_all(const OutputFolder& folder, const std::vector<OutputFile>& files,
               const fs::path& into, const FileCalls& calls, const Watch& watch) {
  watch.say("writing the files");
  std::vector<std::string> contents(files.size()), sums(files.size());
  parallel_for(files.size(), 0, [&](std::size_t i) {
    watch.check();
    contents[i] = files[i].contents();
    sums[i] = sha256(contents[i]);
  });
  watch.check();
  const auto write = [&](const std::string& name, const std::string& text) {
    write_file((into / name).string(), text, calls, (fs::path(folder.path) / name).string());
  };
  for (std::size_t i = 0; i < files.size(); ++i) write(files[i].name, contents[i]);
  write(std::string(sums_name), write_sum_list(folder, files, sums));
}

// A whole new folder comes into place at once, with those above it that were missing.
void write_new(const OutputFolder& folder, const std::vector<OutputFile>& files,
               const fs::path& path, const FileCalls& calls, const Watch& watch) {
  const fs::path there = nearest_there(path, folder.path);
  const fs::path missing = path.lexically_relative(there);
  const Stage stage(there, folder.path);
  write_all(folder, files, stage.folder(missing), calls, watch);
  const fs::path first = *missing.begin();
  Moves(calls).move(stage.path() / first, there / first, folder.path);
  flush_folder_of((there / first).string());
}

// Old files out, new ones in; their list goes first and comes last, so that a folder that has it is
// whole.
void swap_files(const OutputFolder& folder, const std::vector<OutputFile>& files,
                const fs::path& path, const Stage& stage, Moves& moves) {
  std::vector<std::string> out = earlier_output(path).files;
  for (const OutputFile& file : files) out.push_back(file.name);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  out.emplace(out.begin(), sums_name);
  const auto shown = [&](const std::string& name) {
    return (fs::path(folder.path) / name).string();
  };
  for (const std::string& name : out)
    if (is_there(path / name, shown(name)))
      moves.move(path / name, stage.path() / "old" / name, shown(name));
  for (const OutputFile& file : files)
    moves.move(stage.path() / "new" / file.name, path / file.name, shown(file.name));
  moves.move(stage.path() / "new" / sums_name, path / sums_name, shown(std::string(sums_name)));
}

void write_into(const OutputFolder& folder, const std::vector<OutputFile>& files,
                const fs::path& path, const FileCalls& calls, const Watch& watch) {
  Stage stage(path, folder.path);
  stage.folder("old");
  write_all(folder, files, stage.folder("new"), calls, watch);
  Moves moves(calls);
  try {
    swap_files(folder, files, path, stage, moves);
  } catch (...) {
    if (moves.undo()) throw;
    stage.keep();
    throw Error({.file = folder.path},
                fmt::format("could not be written, nor put back as it was; the earlier files are "
                            "in it and in {}",
                            stage.path().string()),
                Error::Kind::machine);
  }
  flush_folder_of((path / sums_name).string());
}

}  // namespace

void check_folder_path(const std::string& path) {
  if (path.empty()) throw Error({}, "--out is empty; name a folder");
  const fs::path there = nearest_there(resolved(path), path);
  if (type_of(there, path) == fs::file_type::directory) return;
  if (there == resolved(path)) throw Error({.file = path}, "is a file; --out names a folder");
  throw Error({.file = path},
              fmt::format("can't be made: {} is no folder; name another", there.string()));
}

void check_folder(const OutputFolder& folder, const std::vector<OutputFile>& files) {
  check_folder_path(folder.path);
  const fs::path path = resolved(folder.path);
  if (!is_there(path, folder.path)) return;
  for (const OutputFile& file : files) {
    const std::string name = (fs::path(folder.path) / file.name).string();
    if (type_of(path / file.name, name) == fs::file_type::directory)
      throw Error({.file = name}, "is a folder where a file is to be written; move it away");
  }
  if (!folder.force) check_overwriting(folder, earlier_output(path), files);
}

void write_folder(const OutputFolder& folder, const std::vector<OutputFile>& files,
                  const FileCalls& calls, const Watch& watch) {
  check_folder(folder, files);
  const fs::path path = resolved(folder.path);
  if (is_there(path, folder.path))
    write_into(folder, files, path, calls, watch);
  else
    write_new(folder, files, path, calls, watch);
}

}  // namespace combwright::app
