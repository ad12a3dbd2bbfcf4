// SPDX-License-Identifier: Apache-2.0
#include "app/inputs.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/file.h"
#include "base/text.h"
#include "box/box_reader.h"
#include "box/shop_reader.h"
#include "music/reader.h"
#include "music/scl_reader.h"

namespace combwright::app {

namespace fs = std::filesystem;

bool ends_like_tune(const std::string& name) {
  static constexpr std::array<std::string_view, 7> endings = {".mid", ".midi",     ".kar", ".smf",
                                                              ".xml", ".musicxml", ".mxl"};
  std::string ending = fs::path(name).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

namespace {

std::vector<std::string> tunes_below(const std::string& folder) {
  std::vector<std::string> paths;
  std::error_code problem;
  auto entry = fs::recursive_directory_iterator(folder, problem);
  for (; !problem && entry != fs::recursive_directory_iterator(); entry.increment(problem)) {
    std::error_code unreadable;  // then it is no tune
    if (entry->is_regular_file(unreadable) && ends_like_tune(entry->path().string()))
      paths.push_back(entry->path().string());
  }
  if (problem) throw file_error(folder, "read", problem, "name a folder that can be read");
  if (paths.empty())
    throw Error({.file = folder}, "holds no tune; tunes end in .mid, .musicxml, .xml or .mxl");
  std::sort(paths.begin(), paths.end());
  return paths;
}

// A box file is text, and no text of a box begins like this.
bool begins_like_tune(std::string_view text) {
  const std::size_t first = text.find_first_not_of("\xEF\xBB\xBF \t\r\n");
  return text.starts_with("MThd") || text.starts_with("RIFF") || text.starts_with("PK\x03\x04") ||
         (first != std::string_view::npos && text[first] == '<');
}

}  // namespace

BoxInput box_input(std::string_view text, const std::string& path) {
  if (begins_like_tune(text))
    throw Error({.file = path},
                "is a tune, where the box file should stand; write the box first, then the tune");
  std::string all(text);
  const auto scale_file = [&](const std::string& named) {
    const std::string beside = (fs::path(path).parent_path() / named).string();
    const Bytes scale = read_file(beside, music::max_scl_bytes);
    all += as_text(scale);
    return music::read_scl(as_text(scale), beside);
  };
  box::BoxReading reading = box::read_box(text, path, scale_file);
  return {path, sha256(all), std::move(reading.box), std::move(reading.settings),
          std::move(reading.findings)};
}

BoxInput load_box(const std::string& path) {
  const Bytes bytes = read_file(path);
  return box_input(as_text(bytes), path);
}

TuneInput tune_input(const Bytes& bytes, const std::string& path) {
  if (fs::path(path).extension() == ".toml")
    throw Error({.file = path},
                "is no tune but a box or shop file; write the box first, then the tune");
  TuneInput input{path, sha256(as_text(bytes)), music::read_tune(bytes, path)};
  if (input.tune.title.empty()) input.tune.title = fs::path(path).stem().string();
  return input;
}

TuneInput load_tune(const std::string& path) {
  return tune_input(read_file(path), path);
}

box::Shop load_shop(const std::string& path) {
  if (path.empty()) return {};
  const Bytes bytes = read_file(path);
  return box::read_shop(as_text(bytes), path);
}

std::vector<std::string> tune_paths(const std::vector<std::string>& given) {
  std::vector<std::string> paths;
  for (const std::string& path : given) {
    std::error_code unreadable;  // then reading it as a file says why
    if (fs::is_directory(path, unreadable)) {
      const std::vector<std::string> inside = tunes_below(path);
      paths.insert(paths.end(), inside.begin(), inside.end());
    } else {
      paths.push_back(path);
    }
  }
  return paths;
}

namespace {

std::tm present() {
  std::time_t seconds = std::time(nullptr);
  if (const char* epoch = std::getenv("SOURCE_DATE_EPOCH")) {  // NOLINT(concurrency-mt-unsafe)
    const std::string_view text = epoch;
    constexpr std::time_t year_9999 = 253402300799;
    const auto given = parse_number<std::time_t>(text);
    if (!given || *given < 0 || *given > year_9999) {
      throw Error({},
                  fmt::format("SOURCE_DATE_EPOCH is \"{}\"; it must be a count of seconds since "
                              "1970, such as 1700000000",
                              text));
    }
    seconds = *given;
  }
  std::tm moment{};
  ::gmtime_r(&seconds, &moment);
  return moment;
}

std::string day_of(const std::tm& moment) {
  return fmt::format("{:04}-{:02}-{:02}", moment.tm_year + 1900, moment.tm_mon + 1, moment.tm_mday);
}

}  // namespace

std::string today() {
  return day_of(present());
}

std::string now() {
  const std::tm moment = present();
  return fmt::format("{}T{:02}:{:02}:{:02}Z", day_of(moment), moment.tm_hour, moment.tm_min,
                     std::min(moment.tm_sec, 59));
}

}  // namespace combwright::app
