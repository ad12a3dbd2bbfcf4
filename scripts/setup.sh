#!/bin/sh
# SPDX-License-Identifier: Apache-2.0
# Installs by package name what is missing to build (`setup.sh build`), to test as well
# (`setup.sh test`), to run the benchmarks too (`setup.sh benchmark`) or to develop
# (`setup.sh develop`) on Debian 12. Quick when nothing is missing.
set -eu

# To build the program.
build="build-essential cmake ninja-build pkg-config libfmt-dev libtomlplusplus-dev
  nlohmann-json3-dev libcli11-dev libpugixml-dev libzip-dev libsndfile1-dev libhwy-dev
  libeigen3-dev libboost-dev libcairo2-dev libpango1.0-dev libssl-dev libsqlite3-dev
  libcpp-httplib-dev gzip
  fonts-dejavu-core"
# To build the tests and benchmarks and to check our files with independent readers.
test="$build ccache libgtest-dev libgmock-dev libbenchmark-dev librapidcheck-dev
  python3 sqlite3 python3-mido python3-svgelements python3-ezdxf python3-numpy python3-scipy
  midicsv abcmidi libsmf-dev musescore3 libxml2-utils librsvg2-bin poppler-utils qpdf
  calculix-ccx linuxcnc-uspace libdxflib-dev coinor-cbc glpk-utils sox csound man-db dpkg-dev unzip
  chromium"
# To compare ourselves with programs that bring many packages of their own.
benchmark="$test python3-aubio"
# To format, to look for mistakes and to fuzz.
develop="$test clang-14 clang-format-14 clang-tidy-14 libclang-rt-14-dev"

case "${1:-build}" in
  build) wanted=$build ;;
  test) wanted=$test ;;
  benchmark) wanted=$benchmark ;;
  develop) wanted=$develop ;;
  *) echo "setup.sh: say build, test, benchmark or develop" >&2; exit 2 ;;
esac

missing=
installed=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' | sed -n 's/^installed //p')
for package in $wanted; do
  printf '%s\n' "$installed" | grep -qx "$package" || missing="$missing $package"
done
# Whichever package brings npm: the page is built with the program.
command -v npm >/dev/null || missing="$missing nodejs npm"
[ -n "$missing" ] || exit 0

as_root=
[ "$(id -u)" -eq 0 ] || as_root=sudo
echo "installing:$missing"
export DEBIAN_FRONTEND=noninteractive
wait="-o DPkg::Lock::Timeout=600"
# shellcheck disable=SC2086 # lists of words
{
  $as_root apt-get $wait update -qq
  $as_root apt-get $wait install -y -qq --no-install-recommends $missing
}
