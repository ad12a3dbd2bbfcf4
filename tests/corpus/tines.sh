#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Brings the plucked tines of sound fonts (music box and kalimba), by package name, into
# build/corpus/tines/<package>/ for tests. Each package's licence is in its copyright file; the
# files are never committed. What is already there is not fetched again. Says what it could not get
# and goes on; fails if a whole package is missing.
set -u
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$here/../../build/corpus/tines"
corpus=$(cd "$here/../../build/corpus/tines" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
missing=0

# The samples of the package $1's font, at $2 in it.
tines() {
  (cd "$scratch" && apt-get -q download "$1" > /dev/null 2>&1 && dpkg-deb -x "$1"_*.deb "$1") &&
    /usr/bin/python3 "$here/font_tines.py" "$scratch/$1/$2" "$scratch/tines" &&
    mv "$scratch/tines" "$corpus/$1"
}

bring() {
  [ -d "$corpus/$1" ] && return
  tines "$1" "$2" || {
    echo "tines: $1 could not be fetched" >&2
    rm -rf "$scratch/tines"
    missing=1
  }
}

bring fluidr3mono-gm-soundfont usr/share/fluidr3mono-gm-soundfont/FluidR3Mono_GM.sf3
bring timgm6mb-soundfont usr/share/sounds/sf2/TimGM6mb.sf2
bring csound-soundfont usr/share/sounds/sf2/sf_GMbank.sf2
exit $missing
