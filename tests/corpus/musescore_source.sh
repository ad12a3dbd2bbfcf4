#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Brings the test scores of Debian's musescore3 source package into build/corpus/musescore/, once.
# Licences: debian/copyright of that package (GPL-2; test/lilyXml and mtest/musicxml carry notes of
# their own). The files are read by tests and never committed.
set -eu
corpus=$(cd "$(dirname "$0")/../.." && pwd)/build/corpus
out=$corpus/musescore
[ -e "$out/.complete" ] && exit 0

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
mkdir -p "$scratch/sources" "$scratch/lists/partial"
cat /etc/apt/sources.list.d/*.sources | sed 's/^Types:.*/Types: deb-src/' > "$scratch/sources/source.sources"
apt_source() {
  apt-get -q -o Dir::Etc::sourcelist=/dev/null -o Dir::Etc::sourceparts="$scratch/sources" \
    -o Dir::State::lists="$scratch/lists" "$@"
}

cd "$scratch"
apt_source update > log 2>&1 &&
  apt_source source --download-only --tar-only musescore3 >> log 2>&1 || {
  echo "musescore3 source: could not be fetched" >&2
  tail -n 3 log >&2
  exit 1
}
mkdir -p "$out"
tar -xf musescore3_*.orig.tar.* -C "$out" --strip-components=1 --wildcards \
  '*/mtest/importmidi/*' '*/mtest/libmscore/midi*' '*/test/midi/*' '*/test/lilyXml/*' \
  '*/mtest/musicxml/io/*' '*/test/musicxml/*'
touch "$out/.complete"
