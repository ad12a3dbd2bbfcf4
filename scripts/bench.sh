#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Builds the release, runs every benchmark (each checks its answers before it is timed) and prints
# one table. What each measured stays in build/bench.
set -eu
cd "$(dirname "$0")/.."
scripts/setup.sh benchmark
cmake --preset release -DCOMBWRIGHT_DEVELOPER=ON -DCOMBWRIGHT_UNIT_TESTS=OFF >/dev/null
cmake --build --preset release
cmake --build --preset release --target $(ninja -C build/release -t targets all |
  sed -n 's/^\(bench_[a-z]*\): phony$/\1/p')
mkdir -p build/bench
[ -d build/corpus/midi ] || sh tests/corpus/midi.sh

# A benchmark is a program bench_TOPIC; where benchmarks/TOPIC/run.py stands beside it, that runs it
# together with its peers. benchmarks/TOPIC/run.mjs measures the release program from outside. All
# write the JSON file named last.
for folder in benchmarks/*/; do
  topic=$(basename "$folder")
  program=build/release/benchmarks/$topic/bench_$topic
  if [ -f "$folder/run.mjs" ]; then
    echo "== $topic"
    COMBWRIGHT=build/release/combwright node "$folder/run.mjs" "build/bench/$topic.json"
    continue
  fi
  [ -x "$program" ] || continue
  echo "== $topic"
  if [ -f "$folder/run.py" ]; then
    /usr/bin/python3 "$folder/run.py" "$program" "build/bench/$topic.json"
  else
    "$program" "build/bench/$topic.json"
  fi
done
echo "== all"
/usr/bin/python3 scripts/bench_table.py build/release/combwright build/bench
