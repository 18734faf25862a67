#!/bin/sh
# same_bytes.sh SOURCE PROGRAM [PROGRAM...]: the same house gives the same bytes in every form, under
# any locale and time zone, and by every program given (other compilers, other optimisation).
set -eu
source=$1
shift
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
answers() {  # PROGRAM: all that it says of the houses, in $folder/now
  rm -rf "$folder/now"
  mkdir "$folder/now"
  "$1" audit "$source/data/fernhill-cottage.toml" --json >"$folder/now/proven"
  for house in fernhill-cottage coopers-quay-apartment amselgrund; do
    in=$source/data/$house.toml
    for command in "audit --no-proof" show "diagnose --no-proof" "demand --method optional" \
      "balance --no-audit"; do
      to=$folder/now/$house.${command%% *}
      # A house without what a command needs is refused, in the same words.
      # shellcheck disable=SC2086  # a command and its options
      { "$1" $command "$in" || true; "$1" $command "$in" --json || true; } >"$to" 2>&1
    done
    "$1" neutral "$in" service --no-proof >"$folder/now/$house.neutral"
    forms=html
    [ "$house" = coopers-quay-apartment ] && forms="html md csv json xlsx svg"
    for form in $forms; do
      "$1" report "$in" --date 2026-03-15 --no-proof --out "$folder/now/$house.$form" \
        $([ "$form" = svg ] && echo --drawing service-wires) >/dev/null
    done
  done
}
compare() {  # WHAT
  if [ ! -d "$folder/first" ]; then
    mv "$folder/now" "$folder/first"
  elif ! diff -rq "$folder/first" "$folder/now"; then
    echo "same_bytes: $1 says something else" >&2
    exit 1
  fi
  echo "$1: $(ls "$folder/first" | wc -l) answers"
}
locales=$(locale -a 2>/dev/null | grep -vxE 'C|POSIX|C\.(utf8|UTF-8)' | head -n 3 || true)
for program in "$@"; do
  answers "$program"
  compare "$program"
done
for zone in Asia/Kathmandu America/St_Johns; do
  for locale in C.UTF-8 $locales; do
    export TZ=$zone LC_ALL=$locale
    answers "$1"
    compare "$zone, $locale"
    [ "${EVENLEG_FULL-}" = 1 ] || break
  done
done
