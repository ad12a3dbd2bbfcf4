#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# From nothing to a disc on a Debian 12 machine: installs what is missing, builds the program and
# makes the pack of the example tune for the example box. Results: out/demo.
set -eu
cd "$(dirname "$0")/.."
scripts/setup.sh build
cmake --preset release -DCOMBWRIGHT_DEVELOPER=OFF
cmake --build --preset release
mkdir -p out
build/release/combwright pack examples/larkspur.toml examples/tunes/hedgerow-morning.musicxml \
  --out out/demo
echo
echo "The results are in $PWD/out/demo; README.txt there says what each file is for."
