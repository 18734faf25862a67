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
  for house in fernhill-cottage coopers-quay-apartment amselgrund; do
    in=$source/data/$house.toml
    for command in audit show diagnose demand balance; do
      "$1" "$command" "$in" >"$folder/now/$house.$command.txt"
      "$1" "$command" "$in" --json >"$folder/now/$house.$command.json"
    done
    "$1" neutral "$in" service >"$folder/now/$house.neutral.txt"
    for form in html md csv json xlsx; do
      "$1" report "$in" --date 2026-03-15 --no-proof --out "$folder/now/$house.$form" >/dev/null
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
