// SPDX-License-Identifier: Apache-2.0
#include "workbench/desk.h"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "app/inputs.h"
#include "app/kept_combs.h"
#include "app/output.h"
#include "app/sum_list.h"
#include "base/error.h"
#include "base/file.h"
#include "box/document.h"
#include "box/paper_kind.h"
#include "records/database.h"
#include "workbench/listening.h"

namespace combwright::workbench {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view paper_ending = ".toml";

bool is_paper(const std::string& name) {
  return name.ends_with(paper_ending);
}

bool is_name(const std::string& name) {
  constexpr std::size_t longest = 200;
  return !name.empty() && name.size() <= longest && name.front() != '.' &&
         std::none_of(name.begin(), name.end(), [](char c) {
           return c == '/' || c == '\\' || static_cast<unsigned char>(c) < ' ' || c == '\x7F';
         });
}

template <class Wanted>
std::vector<std::string> names(const std::string& folder, Wanted wanted) {
  std::vector<std::string> found;
  std::error_code problem;
  for (auto entry = fs::directory_iterator(folder, problem);
       !problem && entry != fs::directory_iterator(); entry.increment(problem)) {
    std::error_code unreadable;  // then it is none of ours
    const std::string name = entry->path().filename().string();
    if (is_name(name) && wanted(name) && entry->is_regular_file(unreadable)) found.push_back(name);
  }
  if (problem)
    throw file_error(folder, "read", problem, "start the workbench in a folder that can be read");
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace

Desk::Desk(std::string folder, const std::string& records)
    : folder_(std::move(folder)),
      records_(records.empty() ? (fs::path(folder_) / "records.db").string() : records),
      kept_combs_(std::make_shared<app::KeptCombs>()),
      listenings_(std::make_shared<Listenings>()) {}

std::string Desk::id() const {
  constexpr std::size_t letters = 12;
  std::error_code unseen;  // then the way as it was given is all there is
  const fs::path place = fs::canonical(folder_, unseen);
  return sha256(unseen ? folder_ : place.string()).substr(0, letters);
}

app::CombsOf Desk::combs_of() const {
  return [kept = kept_combs_](const box::Box& box, const box::Shop& shop, const Watch& watch) {
    return kept->of(box, shop, watch);
  };
}

void Desk::check_records() const {
  if (is_there(records_)) {
    const records::Database opened(records_, records::Access::look);
    return;
  }
  std::error_code unseen;  // then opening says why
  const fs::path folder = fs::path(records_).parent_path();
  if (!folder.empty() && !fs::is_directory(folder, unseen))
    throw Error({.file = records_}, "has no folder to lie in; make it, or name another file");
}

std::vector<std::string> Desk::papers() const {
  return names(folder_, is_paper);
}

std::vector<std::string> Desk::shops() const {
  std::vector<std::string> found = papers();
  std::erase_if(found, [&](const std::string& name) {
    try {
      return !box::is_shop_file(as_text(read_file(path_of(name), box::max_document_bytes)));
    } catch (const Error&) {
      return true;  // whatever it is, it can't be read
    }
  });
  return found;
}

std::vector<std::string> Desk::tunes() const {
  return names(folder_, app::ends_like_tune);
}

std::string Desk::path_of(const std::string& name) const {
  if (!is_name(name) || !(is_paper(name) || app::ends_like_tune(name)))
    throw Error({}, fmt::format("\"{}\" is no name of a box file or tune in this folder", name));
  return (fs::path(folder_) / name).lexically_normal().string();
}

std::string Desk::folder_of(const std::string& name) const {
  if (!is_name(name)) throw Error({}, fmt::format("\"{}\" is no name of a folder", name));
  return (fs::path(folder_) / name).lexically_normal().string();
}

std::string Desk::made(const std::string& folder, const std::string& name) const {
  const fs::path path = folder_of(folder);
  const Bytes list = read_file((path / app::sums_name).string());
  if (name == app::sums_name) return std::string(as_text(list));
  if (!is_name(name) || !app::read_sum_list(as_text(list)).sums.contains(name))
    throw Error({}, fmt::format("{} holds no {} of this program's", folder, name));
  return std::string(as_text(read_file((path / name).string())));
}

std::string Desk::copy_path(const std::string& name) const {
  if (!is_name(name) || !name.ends_with(".db"))
    throw Error({},
                fmt::format("\"{}\" is no name of a copy; one in this folder ends in .db", name));
  return (fs::path(folder_) / name).string();
}

Sheet Desk::read(const std::string& name) const {
  const Bytes bytes = read_file(path_of(name));
  return {std::string(as_text(bytes)), sha256(as_text(bytes))};
}

bool Desk::save(const std::string& name, FileWriter& written, const std::string& known) const {
  const std::string path = path_of(name);
  written.flush();
  const std::lock_guard lock(saving_);
  if (is_there(path) ? known.empty() || read(name).version != known : !known.empty()) return false;
  written.commit();
  return true;
}

}  // namespace combwright::workbench
