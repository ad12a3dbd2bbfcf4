#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Formats all C++ of the project; with --check only says what would change, and fails if anything.
set -eu
cd "$(dirname "$0")/.."
case "${1:-}" in
  "") mode=-i ;;
  --check) mode="--dry-run --Werror" ;;
  *) echo "format.sh: say nothing or --check" >&2; exit 2 ;;
esac
# shellcheck disable=SC2086 # two words
git ls-files -z --cached --others --exclude-standard '*.cpp' '*.h' |
  xargs -0 clang-format-14 $mode
