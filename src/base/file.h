// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "base/error.h"

namespace combwright {

using Bytes = std::vector<std::uint8_t>;

// No input file of ours is larger than this: anything bigger is refused before it is read.
inline constexpr std::size_t max_input_bytes = std::size_t{64} << 20;

// The whole file. Throws Error (request) if it is missing, a folder, no regular file (a pipe or a
// device may never end) or larger than `limit`, Error (machine) if this machine will not let us.
Bytes read_file(const std::string& path, std::size_t limit = max_input_bytes);

// The same bytes as text.
std::string_view as_text(const Bytes& bytes);

// Writes the file whole or not at all: temporary file beside it, flush to disk, rename.
// Throws Error with the system's reason (request if the path can't be, else machine); then the old
// file, if any, is untouched and no part is left.
void write_file(const std::string& path, std::string_view contents);
void write_file(const std::string& path, const Bytes& contents);

// Whether anything stands at the path, be it a link that leads nowhere; true too where that can't
// be seen: then opening it says why.
bool is_there(const std::string& path);

// Flushes the folder that the path lies in, so that new names in it outlive a power cut. Some file
// systems can't; then it is left to them.
void flush_folder_of(const std::string& path);

// "could not write: No space left on device; nothing was changed": what can't be done to the path,
// the system's reason, and what to do. Request if such a path can't be, else machine.
Error file_error(const std::string& path, std::string_view doing, const std::error_code& reason,
                 std::string_view remedy);

// The reason of the system call that has just failed, from errno.
std::error_code last_reason();

// SHA-256 of the bytes in lower-case hexadecimal, as `sha256sum` prints it (FIPS 180-4).
std::string sha256(std::string_view contents);

}  // namespace combwright
