// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/file.h"
#include "base/finding.h"
#include "box/box.h"
#include "box/setting.h"
#include "box/shop.h"
#include "music/tune.h"

namespace combwright::app {

struct BoxInput {
  std::string path;
  std::string sha256;  // of the file's bytes, with those of its scale file behind them
  box::Box box;
  std::vector<box::Setting> settings;  // of every key
  Findings findings;
};

struct TuneInput {
  std::string path;
  std::string sha256;  // of the file's bytes
  music::Tune tune;    // a tune without a title has the file's name for one
};

// The same of contents at hand; `path` names them in messages, and says where a box finds its scale
// file.
BoxInput box_input(std::string_view text, const std::string& path);
TuneInput tune_input(const Bytes& bytes, const std::string& path);

// Each reads one file (a box also the scale file that it names) and throws Error with its place if
// it is missing or wrong.
BoxInput load_box(const std::string& path);
TuneInput load_tune(const std::string& path);

// The workshop of a shop file; the defaults if the path is empty.
box::Shop load_shop(const std::string& path);

// Whether a file of that name is taken for a tune where it lies in a folder.
bool ends_like_tune(const std::string& name);

// The tunes named: files as given, folders as the tunes in them and below, by name. Throws Error
// if a path is missing or a folder holds no tune.
std::vector<std::string> tune_paths(const std::vector<std::string>& given);

// Today as YYYY-MM-DD in UTC, or the day that SOURCE_DATE_EPOCH names (the reproducible builds
// standard), so that the same work gives the same bytes. Throws Error if it is no count of seconds.
std::string today();

// This moment of UTC as YYYY-MM-DDTHH:MM:SSZ, or that of SOURCE_DATE_EPOCH, likewise.
std::string now();

}  // namespace combwright::app
