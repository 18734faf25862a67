#!/bin/sh
# Opens workbooks in LibreOffice without a window and reads every sheet back as text: all sheets
# there, none with an error, nothing that was run. Usage: workbooks.sh PROGRAM SOURCE
# Exit status 77 where LibreOffice is not installed: the test is then skipped, with this reason.
set -eu
. "$(dirname "$0")/../in_time.sh"
office=$(command -v soffice || command -v libreoffice || true)
if [ -z "$office" ]; then
  echo "skipped: LibreOffice is not installed (Debian: apt install libreoffice-calc-nogui)"
  exit 77
fi
program=$1
source=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
status=0
for house in data/fernhill-cottage data/amselgrund tests/record/hostile-names; do
  name=$(basename $house)
  mkdir "$work/$name"
  "$program" report "$source/$house.toml" --no-proof --for contractor --out "$work/$name/a.xlsx" \
    > "$work/said"
  # The last figure of the filter's options, -1, asks for every sheet as a file of its own.
  (cd "$work/$name" && "$office" "-env:UserInstallation=file://$work/profile" --headless \
    --convert-to 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1' \
    a.xlsx > log 2>&1) || { cat "$work/$name/log"; status=1; }
  for sheet in "Read first" Moves "Leg loads" Schedule Neutrals "Directory 1" Loads Limits Readings \
    Ranking; do
    case "$name/$sheet" in amselgrund/Readings) continue ;; esac  # it has none
    if [ ! -s "$work/$name/a-$sheet.csv" ]; then
      echo "$name: no sheet \"$sheet\""
      status=1
    fi
  done
  if grep -l '#NAME?\|#REF!\|#VALUE!\|Err:5' "$work/$name"/*.csv; then
    echo "$name: a sheet holds an error"
    status=1
  fi
done
# A name that looks like a formula is still that name.
grep -q '=1+1' "$work/hostile-names/a-Schedule.csv" || { echo "=1+1 is not text"; status=1; }
[ $status -ne 0 ] || echo "read 3 workbooks back, every sheet"
exit $status
