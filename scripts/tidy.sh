#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Runs clang-tidy over src/, or over the files named, on all cores. clang 14 has no C++23 that the
# standard library of g++ 12 goes with, so the files are read as C++20.
set -eu
cd "$(dirname "$0")/.."
[ -f build/debug/compile_commands.json ] ||
  cmake --preset debug -DCMAKE_EXPORT_COMPILE_COMMANDS=ON >/dev/null
if [ $# -gt 0 ]; then printf '%s\0' "$@"; else find src -name '*.cpp' -print0 | sort -z; fi |
  xargs -0 -n 1 -P "$(nproc)" clang-tidy-14 --quiet --extra-arg=-std=c++20 --extra-arg=-Wno-unknown-warning-option -p build/debug
