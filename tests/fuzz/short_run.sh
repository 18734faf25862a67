#!/bin/sh
# The short run of the fuzz targets: short_run.sh SOURCE BUILD
#
# Builds those of the description, the house file and the log in a build folder of their own, has
# each read its corpus again, and then tries a fixed number of inputs, the same at each run. Fails
# where a property does not hold; 77 where clang or its fuzzer is not there.
set -eu
. "$(dirname "$0")/../in_time.sh"
source=$1
build=$2
targets=$source/tests/fuzz
compiler=clang++-14

skip() {
  echo "skipped: $1 (sh .ci/install fuzz)"
  exit 77
}
command -v $compiler >/dev/null || skip "$compiler is not installed"
[ -e "$($compiler -print-resource-dir)/lib/linux/libclang_rt.fuzzer-$(uname -m).a" ] ||
  skip "the fuzzer of $compiler is not installed"

cmake -S "$source" --preset fuzz-short -B "$build" >"$build.log" || { cat "$build.log"; exit 1; }
cmake --build "$build" --target short_fuzz >"$build.log" || { cat "$build.log"; exit 1; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# short_run NAME RUNS: inputs found on the way are not kept.
short_run() {
  mkdir "$work/$1"
  "$build/tests/fuzz/${1}_fuzz" -runs="$2" -seed=1 -timeout=60 -rss_limit_mb=1500 -max_len=4096 \
    -dict="$targets/$1.dict" -artifact_prefix="$work/$1-" \
    "$work/$1" "$targets/corpus/$1" >"$work/$1.log" 2>&1
}
short_run house_file 250 & house_file=$!
short_run log 500 & log=$!
short_run description 1000 & description=$!

failed=0
tell() {  # NAME PROCESS
  if wait "$2"; then
    echo "$1: $(grep -E '^#[0-9]+.DONE' "$work/$1.log")"
    return
  fi
  failed=1
  tail -n 60 "$work/$1.log"
  for input in "$work/$1"-*; do
    if [ -f "$input" ]; then echo "$input in base64:" && base64 "$input"; fi
  done
}
tell house_file $house_file
tell log $log
tell description $description
exit $failed
