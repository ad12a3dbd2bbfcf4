// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_archive.h"

#include <array>
#include <memory>
#include <string_view>

#include <fmt/format.h>
#include <pugixml.hpp>
#include <zip.h>

#include "base/error.h"
#include "base/file.h"

namespace combwright::music::musicxml {
namespace {

constexpr zip_int64_t max_entries = 1000;
constexpr std::size_t max_container_bytes = std::size_t{1} << 20;
// Scores shrink to between a tenth and a fiftieth. Above this ratio an entry that is also large is
// taken for a zip bomb.
constexpr std::size_t max_ratio = 300;
constexpr std::size_t ratio_free_bytes = std::size_t{4} << 20;

using Archive = std::unique_ptr<zip_t, decltype([](zip_t* archive) { zip_discard(archive); })>;
using Entry = std::unique_ptr<zip_file_t, decltype([](zip_file_t* entry) { zip_fclose(entry); })>;

Archive open_archive(std::span<const std::uint8_t> bytes, const std::string& name) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
  Archive archive(source ? zip_open_from_source(source, ZIP_RDONLY, &error) : nullptr);
  if (!archive && source) zip_source_free(source);
  zip_error_fini(&error);
  if (!archive) throw Error({name}, "damaged zip archive; a whole .mxl file would do");
  if (zip_get_num_entries(archive.get(), 0) > max_entries) {
    throw Error({name}, fmt::format("more than {} files in the archive; a score and its "
                                    "container would do",
                                    max_entries));
  }
  return archive;
}

std::string unpack(zip_t* archive, zip_uint64_t index, std::size_t limit, const std::string& name) {
  const Entry entry(zip_fopen_index(archive, index, 0));
  if (!entry) throw Error({name}, "cannot be unpacked; a plain, unencrypted .mxl would do");
  zip_stat_t stat;
  zip_stat_init(&stat);
  zip_stat_index(archive, index, 0, &stat);
  const std::size_t packed = (stat.valid & ZIP_STAT_COMP_SIZE) ? stat.comp_size : 0;

  // The sizes in the archive may lie, so the limits are held against what really comes out.
  std::string text;
  std::array<char, 1 << 16> chunk{};
  while (true) {
    const zip_int64_t count = zip_fread(entry.get(), chunk.data(), chunk.size());
    if (count < 0) throw Error({name}, "damaged in the archive; a whole .mxl file would do");
    if (count == 0) return text;
    text.append(chunk.data(), static_cast<std::size_t>(count));
    if (text.size() > limit)
      throw Error({name},
                  fmt::format("unpacks to more than {} bytes; a smaller score would do", limit));
    if (text.size() > ratio_free_bytes && text.size() / max_ratio > packed) {
      throw Error({name}, fmt::format("unpacks to more than {} times its size; a real score "
                                      "would do",
                                      max_ratio));
    }
  }
}

std::string path_in_container(zip_t* archive, const std::string& name) {
  const zip_int64_t index = zip_name_locate(archive, "META-INF/container.xml", 0);
  if (index < 0) return {};
  const std::string text = unpack(archive, static_cast<zip_uint64_t>(index), max_container_bytes,
                                  name + "(META-INF/container.xml)");
  pugi::xml_document container;
  container.load_buffer(text.data(), text.size());
  return container.child("container")
      .child("rootfiles")
      .child("rootfile")
      .attribute("full-path")
      .as_string();
}

zip_int64_t find_score(zip_t* archive, const std::string& name) {
  const std::string path = path_in_container(archive, name);
  if (!path.empty()) return zip_name_locate(archive, path.c_str(), 0);
  for (zip_int64_t i = 0; i < zip_get_num_entries(archive, 0); ++i) {
    const char* entry = zip_get_name(archive, static_cast<zip_uint64_t>(i), 0);
    const std::string_view text = entry ? entry : "";
    if ((text.ends_with(".xml") || text.ends_with(".musicxml")) && !text.starts_with("META-INF/"))
      return i;
  }
  return -1;
}

}  // namespace

bool is_archive(std::span<const std::uint8_t> bytes) {
  return bytes.size() >= 4 && bytes[0] == 'P' && bytes[1] == 'K' && bytes[2] == 3 && bytes[3] == 4;
}

ScoreFile unpack_score(std::span<const std::uint8_t> bytes, const std::string& name) {
  const Archive archive = open_archive(bytes, name);
  const zip_int64_t index = find_score(archive.get(), name);
  if (index < 0)
    throw Error({name}, "no score in the archive; META-INF/container.xml would name one");
  const auto score = static_cast<zip_uint64_t>(index);
  const char* entry = zip_get_name(archive.get(), score, 0);
  const std::string inner = fmt::format("{}({})", name, entry ? entry : "score");
  return {inner, unpack(archive.get(), score, max_input_bytes, inner)};
}

}  // namespace combwright::music::musicxml
