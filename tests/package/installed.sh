#!/bin/sh
# Installs into an empty folder, looks at what is there and runs it from there.
# Usage: installed.sh CMAKE BUILD SOURCE BUILD_TYPE
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
list=$(dirname "$0")/installed.list
"$1" --install "$2" --prefix "$work/prefix" > "$work/said"
(cd "$work/prefix" && find . -type f | sed 's/^\.\///' | LC_ALL=C sort) | diff -u "$list" - ||
  { echo "not what installed.list says"; exit 1; }

# Moved, so that nothing can hang on where it was installed.
mv "$work/prefix" "$work/moved"
program=$work/moved/bin/evenleg
cd "$work"
"$program" demo try-out > shown
grep -q '^Made here:' shown
"$program" check try-out/fernhill-cottage.house
example=$work/moved/share/doc/evenleg/examples/coopers-quay-apartment.toml
"$program" check "$example" --data "$work/moved/share/evenleg"
gzip -dc "$work/moved/share/man/man1/evenleg.1.gz" | grep -q '^\.TH evenleg 1'
bash -n "$work/moved/share/bash-completion/completions/evenleg"

# Debug information may name the folders of the build; a release may not.
if [ "$4" = Release ]; then
  for folder in "$2" "$3"; do
    ! grep -a -q -F "$folder" "$program" || { echo "the program names $folder"; exit 1; }
  done
fi
