// SPDX-License-Identifier: Apache-2.0
#include "app/output.h"

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <map>
#include <system_error>

#include <fmt/format.h>
#include <sys/stat.h>

#include "base/error.h"
#include "base/file.h"
#include "base/parallel.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t sum_length = 64;
constexpr std::string_view program_name = "combwright";

// A folder that takes the files before they are all there, and vanishes with what is left in it.
class Stage {
 public:
  Stage(const fs::path& folder, bool inside) {
    const std::string beside = fmt::format(".{}.XXXXXX", folder.filename().string());
    std::string name = (inside ? folder / beside : folder.parent_path() / beside).string();
    if (::mkdtemp(name.data()) == nullptr)
      throw Error({.file = folder.string()},
                  fmt::format("could not write: {}", std::strerror(errno)), Error::Kind::machine);
    path_ = name;
  }
  Stage(const Stage&) = delete;
  Stage& operator=(const Stage&) = delete;
  ~Stage() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }

  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

void move_into_place(const fs::path& from, const fs::path& to) {
  std::error_code problem;
  fs::rename(from, to, problem);
  if (problem)
    throw Error({.file = to.string()}, fmt::format("could not write: {}", problem.message()),
                Error::Kind::machine);
}

// Folder as an absolute path without a trailing slash, so that it has a name and a parent.
fs::path resolved(const std::string& folder) {
  fs::path path = fs::absolute(folder).lexically_normal();
  if (path.filename().empty()) path = path.parent_path();
  return path;
}

// Name and sum of every file that the folder's list names.
std::map<std::string, std::string> listed_sums(const fs::path& folder) {
  std::map<std::string, std::string> sums;
  std::ifstream list(folder / sums_name);
  std::string line;
  while (std::getline(list, line))
    if (line.size() > sum_length + 2 && line[0] != '#')
      sums[line.substr(sum_length + 2)] = line.substr(0, sum_length);
  return sums;
}

// Our own outputs may be larger than any input that we take.
constexpr std::size_t any_size = std::size_t{1} << 40;

// The files of the list that still are as they were written.
std::vector<std::string> own_files(const fs::path& folder) {
  std::vector<std::string> own;
  for (const auto& [name, sum] : listed_sums(folder)) {
    const fs::path path = folder / name;
    if (name.find('/') == std::string::npos && fs::is_regular_file(path) &&
        sha256(as_text(read_file(path.string(), any_size))) == sum)
      own.push_back(name);
  }
  return own;
}

bool contains(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

void check_overwriting(const fs::path& folder, const std::vector<std::string>& own,
                       const std::vector<OutputFile>& files) {
  for (const OutputFile& file : files) {
    const fs::path path = folder / file.name;
    if (fs::exists(path) && !contains(own, file.name)) {
      throw Error({.file = path.string()},
                  "is there already and is not as this program wrote it; choose another folder or "
                  "give --force");
    }
  }
}

// A failure names the file where it would have come to lie.
void write_to_stage(const fs::path& stage, const fs::path& folder, const std::string& name,
                    std::string_view contents) {
  const std::string staged = (stage / name).string();
  try {
    write_file(staged, contents);
  } catch (const Error& error) {
    const std::string reason = std::string(error.what()).substr(staged.size() + 2);
    throw Error({.file = (folder / name).string()}, reason, error.kind());
  }
}

std::string sums_text(const std::vector<OutputFile>& files, const std::vector<std::string>& sums) {
  std::string text =
      fmt::format("# written by {}; check with: sha256sum --check {}\n", program_name, sums_name);
  for (std::size_t i = 0; i < files.size(); ++i)
    text += fmt::format("{}  {}\n", sums[i], files[i].name);
  return text;
}

void open_to_all(const fs::path& path) {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  ::chmod(path.c_str(), 0777 & ~mask);
}

}  // namespace

void check_folder(const std::string& folder, const std::vector<OutputFile>& files, bool force) {
  const fs::path path = resolved(folder);
  if (fs::exists(path) && !fs::is_directory(path))
    throw Error({.file = folder}, "is a file; --out names a folder");
  if (!fs::is_directory(path.parent_path()))
    throw Error({.file = folder}, fmt::format("lies in {}, which is no folder; make that first",
                                              path.parent_path().string()));
  if (!force && fs::exists(path)) check_overwriting(folder, own_files(path), files);
}

void write_folder(const std::string& folder, const std::vector<OutputFile>& files, bool force) {
  check_folder(folder, files, force);
  const fs::path path = resolved(folder);
  const bool there = fs::exists(path);
  const Stage stage(path, there);
  std::vector<std::string> contents(files.size()), sums(files.size());
  parallel_for(files.size(), 0, [&](std::size_t i) {
    contents[i] = files[i].contents();
    sums[i] = sha256(contents[i]);
  });
  for (std::size_t i = 0; i < files.size(); ++i)
    write_to_stage(stage.path(), folder, files[i].name, contents[i]);
  write_to_stage(stage.path(), folder, std::string(sums_name), sums_text(files, sums));
  if (!there) {
    open_to_all(stage.path());
    move_into_place(stage.path(), path);
    return;
  }
  const std::vector<std::string> own = own_files(path);
  for (const OutputFile& file : files) move_into_place(stage.path() / file.name, path / file.name);
  move_into_place(stage.path() / sums_name, path / sums_name);
  for (const std::string& name : own) {
    const bool replaced = std::any_of(files.begin(), files.end(),
                                      [&](const OutputFile& file) { return file.name == name; });
    if (!replaced) fs::remove(path / name);
  }
}

void check_single(const std::string& path, bool force) {
  if (fs::is_directory(path)) throw Error({.file = path}, "is a folder; name a file");
  if (force || !fs::exists(path)) return;
  constexpr std::size_t enough = 4096;
  std::string head(enough, '\0');
  std::ifstream(path, std::ios::binary).read(head.data(), static_cast<std::streamsize>(enough));
  const bool our_kind = head.starts_with("MThd") || head.starts_with("RIFF");
  if (!our_kind || head.find(program_name) == std::string::npos) {
    throw Error({.file = path},
                "is there already and is not this program's work; choose another name or give "
                "--force");
  }
}

void write_single(const std::string& path, std::string_view contents, bool force) {
  check_single(path, force);
  write_file(path, contents);
}

}  // namespace combwright::app
