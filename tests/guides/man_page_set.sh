#!/bin/sh
# Sets the manual page as `man` would, with all warnings on. Usage: man_page_set.sh PAGE
# Exit status 77 where groff is not installed: the test is then skipped, with this reason.
set -eu
# groff-base has the command too, and the macros of man.
if ! command -v groff > /dev/null; then
  echo "skipped: groff is not installed (Debian: apt install groff-base)"
  exit 77
fi
for device in utf8 ascii; do
  for width in 60 78 120; do
    said=$(groff -man -T$device -ww -rLL=${width}n -z "$1" 2>&1)
    [ -z "$said" ] || { echo "-T$device, $width columns: $said"; exit 1; }
  done
done
# What a shell could be given must come out as it was typed.
plain=$(groff -man -Tutf8 -P-c -rLL=120n "$1")
# shellcheck disable=SC2016  # as typed
for typed in '--fail-on-danger' '"EV charger=9600 W"' "worst-hour.svg" '"\,"' '`evenleg audit`'; do
  case $plain in
    *"$typed"*) ;;
    *) echo "not set as it is typed: $typed"; exit 1 ;;
  esac
done
