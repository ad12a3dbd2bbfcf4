// SPDX-License-Identifier: Apache-2.0
#include "sound/wav.h"

#include <algorithm>
#include <cstring>
#include <memory>
#include <utility>
#include <vector>

#include <sndfile.h>

#include "base/error.h"

namespace combwright::sound {
namespace {

// A file in memory, as libsndfile wants it.
struct Memory {
  Bytes bytes;
  sf_count_t at = 0;

  static Memory& of(void* user) { return *static_cast<Memory*>(user); }

  static sf_count_t length(void* user) { return static_cast<sf_count_t>(of(user).bytes.size()); }

  static sf_count_t tell(void* user) { return of(user).at; }

  static sf_count_t seek(sf_count_t offset, int whence, void* user) {
    const sf_count_t from =
        whence == SEEK_SET ? 0 : (whence == SEEK_CUR ? of(user).at : length(user));
    return of(user).at = from + offset;
  }

  static sf_count_t read(void* to, sf_count_t count, void* user) {
    const sf_count_t size = std::clamp<sf_count_t>(length(user) - of(user).at, 0, count);
    std::memcpy(to, of(user).bytes.data() + of(user).at, static_cast<std::size_t>(size));
    of(user).at += size;
    return size;
  }

  static sf_count_t write(const void* from, sf_count_t count, void* user) {
    auto& memory = of(user);
    const auto end = static_cast<std::size_t>(memory.at + count);
    if (end > memory.bytes.size()) memory.bytes.resize(end);
    std::memcpy(memory.bytes.data() + memory.at, from, static_cast<std::size_t>(count));
    memory.at += count;
    return count;
  }
};

std::vector<float> interleaved(const Preview& preview) {
  std::vector<float> frames;
  frames.reserve(2 * preview.left.size());
  for (std::size_t i = 0; i < preview.left.size(); ++i) {
    frames.push_back(preview.left[i]);
    frames.push_back(preview.right[i]);
  }
  return frames;
}

}  // namespace

Bytes wav(const Preview& preview, const std::string& title) {
  Memory memory;
  memory.bytes.reserve(6 * preview.left.size() + 1024);
  SF_VIRTUAL_IO io{Memory::length, Memory::seek, Memory::read, Memory::write, Memory::tell};
  SF_INFO info{};
  info.samplerate = preview.sample_rate_hz;
  info.channels = 2;
  info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
  std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open_virtual(&io, SFM_WRITE, &info, &memory),
                                                   sf_close);
  if (!file) throw Error({}, sf_strerror(nullptr), Error::Kind::machine);
  // The comment, not the software field: libsndfile adds its own version to that one.
  sf_set_string(file.get(), SF_STR_TITLE, title.c_str());
  sf_set_string(file.get(), SF_STR_COMMENT, "Preview made by combwright");
  const auto frames = interleaved(preview);
  const auto count = static_cast<sf_count_t>(preview.left.size());
  if (sf_writef_float(file.get(), frames.data(), count) != count)
    throw Error({}, sf_strerror(file.get()), Error::Kind::machine);
  file.reset();  // completes the header
  return std::move(memory.bytes);
}

}  // namespace combwright::sound
