// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "app/comb_job.h"
#include "base/file_writer.h"

// What the workbench works with: a folder with box files, shop files and tunes, and the records.
namespace combwright::app {
class KeptCombs;
}

namespace combwright::workbench {

class Listenings;

struct Sheet {
  std::string text;
  std::string version;  // SHA-256 of the bytes
};

class Desk {
 public:
  // The records lie in the folder as records.db unless another file is named for them.
  explicit Desk(std::string folder, const std::string& records = "");

  // Of the folder, by where it lies: the same for as long as it stays there.
  std::string id() const;

  // The way to the records; the first thing that is filed makes the file.
  const std::string& records() const { return records_; }

  // What is kept between questions, to answer sooner.
  app::CombsOf combs_of() const;
  Listenings& listenings() const { return *listenings_; }

  // Throws Error if the records that are there cannot be worked with, or their folder is missing.
  void check_records() const;

  // Names of files, sorted: *.toml, those of them that are shop files, and what ends like a tune.
  std::vector<std::string> papers() const;
  std::vector<std::string> shops() const;
  std::vector<std::string> tunes() const;

  // Throws Error if the name is not that of a file right in the folder, hidden ones left out, or
  // if there is none that can be read.
  Sheet read(const std::string& name) const;

  // Puts what was written to path_of(name) into its place, if the file there is still what the
  // caller knows: `known` is its version, empty for a file that is not there yet. Nothing is
  // changed, and false given, if it is not. Throws Error as read does.
  bool save(const std::string& name, FileWriter& written, const std::string& known) const;

  // The way to a file by its name, checked as in read.
  std::string path_of(const std::string& name) const;

  // The way to a copy of the records by its name, which ends in .db. Throws Error if it is no name
  // of a file right in the folder.
  std::string copy_path(const std::string& name) const;

  // The way to a folder right in this one, there or not, checked likewise.
  std::string folder_of(const std::string& name) const;

  // A file that this program made in such a folder: one that its list of sums has. Throws Error as
  // read does.
  std::string made(const std::string& folder, const std::string& name) const;

 private:
  std::string folder_;
  std::string records_;
  std::shared_ptr<app::KeptCombs> kept_combs_;
  std::shared_ptr<Listenings> listenings_;
  // Between looking at a file and writing it nobody else of this program may write it.
  mutable std::mutex saving_;
};

}  // namespace combwright::workbench
