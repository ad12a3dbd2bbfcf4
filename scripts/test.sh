#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Proves the project: brings what the tests need, builds with the sanitizers on and runs the unit
# tests and fuzz replays, then builds the release and runs every test of whole programs. Fails if
# any test does, or if a whole set of real files is missing.
set -eu
cd "$(dirname "$0")/.."
jobs=$(nproc)
scripts/setup.sh test

incomplete=
for set in tests/corpus/*.sh; do
  sh "$set" || sh "$set" || incomplete="$incomplete $set"
done

# Unit tests are named layer.Suite.case; scripts that test the release have lower-case names.
cmake --preset asan >/dev/null
cmake --build --preset asan --target $(ninja -C build/asan -t targets all |
  sed -n 's/^\(\(test\|fuzz\)_[a-z_0-9]*\): phony$/\1/p')
ctest --preset asan --tests-regex '^(fuzz\.|[a-z]+\.[A-Z])' --parallel "$jobs" --timeout 600

cmake --preset release -DCOMBWRIGHT_DEVELOPER=ON -DCOMBWRIGHT_UNIT_TESTS=OFF >/dev/null
cmake --build --preset release
[ -z "$incomplete" ] || echo "missing real files:$incomplete" >&2
ctest --preset release --parallel "$jobs" --timeout 600
[ -z "$incomplete" ]
