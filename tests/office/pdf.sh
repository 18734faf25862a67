#!/bin/sh
# Makes PDFs of the four reports: each a PDF, the client's on one page. Usage: pdf.sh PROGRAM SOURCE
# Exit status 77 where the renderer is not installed: the test is then skipped, with this reason.
set -eu
. "$(dirname "$0")/../in_time.sh"
if ! command -v weasyprint > /dev/null; then
  echo "skipped: WeasyPrint is not installed (Debian: apt install weasyprint)"
  exit 77
fi
program=$1
source=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
status=0
for reader in electrician inspector contractor client; do
  "$program" report "$source/data/coopers-quay-apartment.toml" --no-proof --for $reader \
    --out "$work/$reader.pdf" > "$work/said"
  head -c 5 "$work/$reader.pdf" | grep -q '%PDF-' || { echo "$reader: no PDF"; status=1; }
done
if command -v pdfinfo > /dev/null; then
  pages=$(pdfinfo "$work/client.pdf" | sed -n 's/^Pages: *//p')
  [ "$pages" = 1 ] || { echo "the client's report takes $pages pages"; status=1; }
fi
[ $status -ne 0 ] || echo "made 4 PDFs"
exit $status
