// SPDX-License-Identifier: Apache-2.0
// replay MUTATIONS FILE|FOLDER...: runs a fuzz target over the files named and over so many seeded
// mutations of each, for compilers without libFuzzer.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <vector>

// NOLINTNEXTLINE(readability-identifier-naming): libFuzzer's name
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Input = std::vector<std::uint8_t>;

Input read(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  const std::vector<char> bytes{std::istreambuf_iterator<char>(file), {}};
  return {bytes.begin(), bytes.end()};
}

// A few bytes changed, a piece left out, repeated or cut off.
Input mutated(Input input, std::mt19937& random) {
  for (unsigned changes = 1 + random() % 4; changes > 0 && !input.empty(); --changes) {
    const auto at = static_cast<std::ptrdiff_t>(random() % input.size());
    const auto rest = static_cast<std::ptrdiff_t>(input.size()) - at;
    const auto length = static_cast<std::ptrdiff_t>(random() % 16) % rest + 1;
    switch (random() % 5) {
      case 0:
        input[static_cast<std::size_t>(at)] = static_cast<std::uint8_t>(random());
        break;
      case 1:
        input[static_cast<std::size_t>(at)] ^= static_cast<std::uint8_t>(1U << (random() % 8));
        break;
      case 2:
        input.erase(input.begin() + at, input.begin() + at + length);
        break;
      case 3: {
        const Input piece(input.begin() + at, input.begin() + at + length);
        input.insert(input.begin() + at, piece.begin(), piece.end());
        break;
      }
      default:
        if (random() % 8 == 0) input.resize(static_cast<std::size_t>(at));
        break;
    }
  }
  return input;
}

void collect(const std::filesystem::path& path, std::vector<std::filesystem::path>& files) {
  if (std::filesystem::is_directory(path)) {
    for (const auto& entry : std::filesystem::directory_iterator(path))
      collect(entry.path(), files);
  } else if (std::filesystem::exists(path)) {
    files.push_back(path);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int mutations = argc > 1 ? std::atoi(argv[1]) : 0;
  std::vector<std::filesystem::path> files;
  for (int i = 2; i < argc; ++i) collect(argv[i], files);
  std::sort(files.begin(), files.end());
  std::mt19937 random(1);
  for (const auto& file : files) {
    const Input input = read(file);
    LLVMFuzzerTestOneInput(input.data(), input.size());
    for (int i = 0; i < mutations; ++i) {
      const Input other = mutated(input, random);
      LLVMFuzzerTestOneInput(other.data(), other.size());
    }
  }
  std::printf("%zu inputs, %d mutations of each\n", files.size(), mutations);
  return files.empty() ? 1 : 0;
}
