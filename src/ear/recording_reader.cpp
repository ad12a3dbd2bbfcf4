// SPDX-License-Identifier: Apache-2.0
#include "ear/recording_reader.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <sndfile.h>

#include "base/error.h"
#include "ear/sound_chunk.h"

namespace combwright::ear {
namespace {

constexpr std::string_view remedy = "export it as WAV with 24 bit at 48 kHz";

// A file in memory, as libsndfile wants it.
struct Memory {
  const Bytes& bytes;
  sf_count_t at = 0;

  static Memory& of(void* user) { return *static_cast<Memory*>(user); }

  static sf_count_t length(void* user) { return static_cast<sf_count_t>(of(user).bytes.size()); }

  static sf_count_t tell(void* user) { return of(user).at; }

  // A header may send libsndfile anywhere.
  static sf_count_t seek(sf_count_t offset, int whence, void* user) {
    const sf_count_t from =
        whence == SEEK_SET ? 0 : (whence == SEEK_CUR ? of(user).at : length(user));
    if (offset < -from || offset > length(user) - from) return -1;
    return of(user).at = from + offset;
  }

  static sf_count_t read(void* to, sf_count_t count, void* user) {
    const sf_count_t size = std::clamp<sf_count_t>(length(user) - of(user).at, 0, count);
    if (size > 0)
      std::memcpy(to, of(user).bytes.data() + of(user).at, static_cast<std::size_t>(size));
    of(user).at += size;
    return size;
  }
};

// The name of the format by the first bytes, so that libsndfile sees none of its forty others.
std::string_view container(const Bytes& bytes) {
  const std::string_view text = as_text(bytes).substr(0, 12);
  const std::string_view outer = text.substr(0, 4);
  const std::string_view inner = text.size() < 12 ? std::string_view() : text.substr(8);
  if ((outer == "RIFF" || outer == "RIFX" || outer == "RF64") && inner == "WAVE") return "WAV";
  if (outer == "FORM" && (inner == "AIFF" || inner == "AIFC")) return "AIFF";
  if (outer == "fLaC") return "FLAC";
  return {};
}

// Empty if its samples are compressed with loss, or coarse.
std::string_view sample_format(int format) {
  switch (format & SF_FORMAT_SUBMASK) {
    case SF_FORMAT_PCM_16:
      return "16 bit";
    case SF_FORMAT_PCM_24:
      return "24 bit";
    case SF_FORMAT_PCM_32:
      return "32 bit";
    case SF_FORMAT_FLOAT:
      return "32-bit float";
    case SF_FORMAT_DOUBLE:
      return "64-bit float";
    default:
      return {};
  }
}

std::string reason_of(SNDFILE* file) {
  std::string text = sf_strerror(file);
  while (!text.empty() && (text.back() == '.' || text.back() == '\n')) text.pop_back();
  return text;
}

class Reader {
 public:
  Reader(const Bytes& bytes, std::string name)
      : bytes_(bytes), name_(std::move(name)), memory_{bytes}, file_(nullptr, sf_close) {}

  Recording recording() {
    if (bytes_.size() > max_recording_bytes)
      fail(fmt::format("larger than {} MiB; cut it into several takes", max_recording_bytes >> 20));
    container_ = container(bytes_);
    if (container_.empty()) fail("no recording in WAV, AIFF or FLAC; " + std::string(remedy));
    open();
    Recording recording{.rate_hz = static_cast<double>(info_.samplerate),
                        .format = fmt::format("{}, {}", container_, sample_format(info_.format))};
    recording.channels.resize(static_cast<std::size_t>(info_.channels));
    read(recording.channels);
    if (recording.frames() == 0) fail("no sound that can be read in it; record it again");
    recording.cut_short = cut_short(recording.frames());
    return recording;
  }

 private:
  [[noreturn]] void fail(const std::string& message) const { throw Error({name_}, message); }

  void open() {
    SF_VIRTUAL_IO io{Memory::length, Memory::seek, Memory::read, nullptr, Memory::tell};
    file_.reset(sf_open_virtual(&io, SFM_READ, &info_, &memory_));
    if (!file_)
      fail(fmt::format("can't be read as {}: {}; {}", container_, reason_of(nullptr), remedy));
    if (sample_format(info_.format).empty()) {
      fail(
          "its samples are compressed or have 8 bits; 16, 24 or 32 bits or floating point would "
          "do");
    }
    if (info_.channels < 1 || info_.channels > max_channels)
      fail(fmt::format("{} channels; 1 to {} would do", info_.channels, max_channels));
    if (info_.samplerate < min_rate_hz || info_.samplerate > max_rate_hz)
      fail(fmt::format("{} samples a second; {} to {} would do", info_.samplerate, min_rate_hz,
                       max_rate_hz));
    max_frames_ = std::min(static_cast<std::size_t>(max_recording_s * info_.samplerate),
                           max_recording_samples / static_cast<std::size_t>(info_.channels));
  }

  void read(std::vector<std::vector<double>>& channels) {
    constexpr sf_count_t block_frames = 4096;
    std::vector<double> block(static_cast<std::size_t>(block_frames) * channels.size());
    // What the header says, unless the file is too short for it.
    const std::size_t told =
        std::min(static_cast<std::size_t>(std::max<sf_count_t>(0, info_.frames)),
                 bytes_.size() / (2 * channels.size()) + 1);
    for (std::vector<double>& channel : channels) channel.reserve(std::min(told, max_frames_));
    for (;;) {
      const sf_count_t got = sf_readf_double(file_.get(), block.data(), block_frames);
      // A frame of FLAC whose checksum is wrong comes as zeros, and may be anywhere in the block.
      damaged_ = sf_error(file_.get()) != SF_ERR_NO_ERROR;
      if (got <= 0 || damaged_) return;
      const std::size_t begin = channels[0].size();
      const auto count = static_cast<std::size_t>(got);
      if (begin + count > max_frames_)
        fail(fmt::format("longer than {:.0f} s; cut it into several takes",
                         static_cast<double>(max_frames_) / info_.samplerate));
      for (std::size_t c = 0; c < channels.size(); ++c) {
        channels[c].resize(begin + count);
        for (std::size_t i = 0; i < count; ++i)
          channels[c][begin + i] = sample(block[i * channels.size() + c], begin + i);
      }
    }
  }

  double sample(double value, std::size_t frame) const {
    if (std::abs(value) <= max_sample) return value;
    fail(fmt::format("the sample at {:.6f} s is {}; {}",
                     static_cast<double>(frame) / info_.samplerate,
                     std::isfinite(value) ? "far over full scale" : "no number", remedy));
  }

  bool cut_short(std::size_t frames) const {
    if (container_ == "FLAC") {
      const bool length_known = info_.frames < SF_COUNT_MAX;
      return damaged_ || (length_known && static_cast<std::size_t>(info_.frames) > frames);
    }
    const auto chunk = sound_chunk(bytes_);
    if (!chunk) return false;
    // Zero stands there until a recorder closes its file, and an enormous length where the file
    // went through a pipe and its end could not be known.
    if (chunk->length == 0) return true;
    return chunk->length <= max_recording_bytes && chunk->length > bytes_.size() - chunk->begin;
  }

  const Bytes& bytes_;
  std::string name_;
  Memory memory_;
  std::string_view container_;
  SF_INFO info_{};
  std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file_;
  std::size_t max_frames_ = 0;
  bool damaged_ = false;
};

}  // namespace

Recording read_recording(const Bytes& bytes, const std::string& name) {
  return Reader(bytes, name).recording();
}

}  // namespace combwright::ear
