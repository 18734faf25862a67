#!/bin/sh
# Opens pages in Chromium without a window, at 360, 768 and 1280 px, and judges each: nothing wider
# than the page, every picture with words for it, every table head with a scope, headings in order,
# nothing that refers elsewhere, nothing on the console. With the pages named, the reports of a house
# of hostile names and of a large one are judged. Usage: pages.sh PROGRAM SOURCE PAGE.html ...
# Exit status 77 where no Chromium is installed: the test is then skipped, with this reason.
set -eu
. "$(dirname "$0")/../in_time.sh"
browser=$(command -v chromium || command -v chromium-browser || true)
if [ -z "$browser" ]; then
  echo "skipped: no Chromium is installed (Debian: apt install chromium)"
  exit 77
fi
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
program=$1
houses=$2/tests/record
shift 2
for house in hostile-names large-house; do
  for reader in electrician inspector contractor client event; do
    "$program" report "$houses/$house.toml" --for $reader --no-proof \
      --out "$work/$house-$reader.html" > "$work/said"
    set -- "$@" "$work/$house-$reader.html"
  done
done
count=0
frames=
for page in "$@"; do
  count=$((count + 1))
  cp "$page" "$work/$count.html"
  frames="$frames\"$(basename "$page")\","
done
sed "s|PAGES|$frames|" "$here/judge.html" > "$work/judge.html"
"$browser" --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
  --disable-background-networking --disable-component-update --disable-sync \
  --allow-file-access-from-files --enable-logging=stderr --user-data-dir="$work/profile" \
  --virtual-time-budget=60000 --window-size=1400,1000 --dump-dom "file://$work/judge.html" \
  > "$work/dom" 2> "$work/log" || { cat "$work/log"; echo "Chromium failed"; exit 1; }
status=0
sed 's/<li>/\n/g; s/<\/li>//g; s/<\/ul>.*//' "$work/dom" | grep ' px: ' | grep -v textContent || true
grep -q "<p id=\"done\">judged $count pages at 3 widths, 0 faults</p>" "$work/dom" || status=1
grep -o '<p id="done">[^<]*' "$work/dom" | sed 's/.*>//' || true
if grep 'CONSOLE' "$work/log"; then
  echo "the console is not empty"
  status=1
fi
exit $status
