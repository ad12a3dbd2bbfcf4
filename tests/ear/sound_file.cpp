// SPDX-License-Identifier: Apache-2.0
#include "sound_file.h"

#include <cstring>
#include <stdexcept>

#include <sndfile.h>

namespace combwright::ear::test {
namespace {

struct Memory {
  Bytes bytes;
  sf_count_t at = 0;
};

Memory& of(void* user) {
  return *static_cast<Memory*>(user);
}

sf_count_t length(void* user) {
  return static_cast<sf_count_t>(of(user).bytes.size());
}

sf_count_t tell(void* user) {
  return of(user).at;
}

sf_count_t seek(sf_count_t offset, int whence, void* user) {
  const sf_count_t from =
      whence == SEEK_SET ? 0 : (whence == SEEK_CUR ? of(user).at : length(user));
  return of(user).at = from + offset;
}

sf_count_t read(void* to, sf_count_t count, void* user) {
  const sf_count_t size = std::min(count, length(user) - of(user).at);
  std::memcpy(to, of(user).bytes.data() + of(user).at, static_cast<std::size_t>(size));
  of(user).at += size;
  return size;
}

sf_count_t write(const void* from, sf_count_t count, void* user) {
  auto& [bytes, at] = of(user);
  bytes.resize(std::max(bytes.size(), static_cast<std::size_t>(at + count)));
  std::memcpy(bytes.data() + at, from, static_cast<std::size_t>(count));
  at += count;
  return count;
}

}  // namespace

Bytes sound_file(const std::vector<std::vector<double>>& channels, int rate_hz, int format) {
  Memory memory;
  SF_VIRTUAL_IO io{length, seek, read, write, tell};
  SF_INFO info{};
  info.samplerate = rate_hz;
  info.channels = static_cast<int>(channels.size());
  info.format = format;
  SNDFILE* file = sf_open_virtual(&io, SFM_WRITE, &info, &memory);
  if (file == nullptr) throw std::runtime_error(sf_strerror(nullptr));
  std::vector<double> frames;
  for (std::size_t i = 0; i < channels[0].size(); ++i)
    for (const auto& channel : channels) frames.push_back(channel[i]);
  sf_writef_double(file, frames.data(), static_cast<sf_count_t>(channels[0].size()));
  sf_close(file);
  return memory.bytes;
}

}  // namespace combwright::ear::test
