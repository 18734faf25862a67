#!/bin/sh
# Holds the manual page to the help: every command and every option that --help prints stands in the
# page, in its command's own part. Usage: man_page.sh PROGRAM PAGE
set -eu
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# The page as plain text: fonts away, named letters back.
sed -e 's/\\f[BIR]//g' -e 's/\\-/-/g' -e "s/\\\\(aq/'/g" -e 's/\\(dq/"/g' -e 's/\\(ga/`/g' \
  -e 's/\\&//g' -e 's/\\(rs/\\/g' "$2" > "$work/page"
status=0
checked=0

wrong() {
  echo "$1"
  status=1
}

# part HEADING: the page from that heading to the next.
part() {
  awk -v heading="$1" '/^\.S[SH] / { inside = substr($0, 5) == heading } inside' "$work/page"
}

# options_in: the options of a help, one a line. Between "Options:" and the next empty line.
options_in() {
  sed -n '/^Options:/,/^$/p' "$1" | sed -n 's/^  \(-[^ ]*\).*/\1/p' | tr ',' '\n'
}

# check COMMAND…: that command and those below it.
check() {
  help=$work/help.$(echo "$*" | tr ' ' '.')
  "$program" "$@" --help > "$help"
  usage=$(sed -n -e 's/…/.../g' -e 's/^Use: //p' "$help")
  if [ $# -eq 0 ]; then heading=OPTIONS; else heading=$usage; fi
  part "$heading" > "$work/part"
  [ -s "$work/part" ] || wrong "\"$usage\": not in the page"
  for option in $(options_in "$help"); do
    checked=$((checked + 1))
    # Told once, under OPTIONS.
    case $option in --help | -h | --data) [ $# -eq 0 ] || continue ;; esac
    grep -q -e "^$option\( \|,\|\$\)\|^-., $option" "$work/part" ||
      wrong "\"$usage\": $option is not in the page"
  done
  # shellcheck disable=SC2013  # words without spaces
  for below in $(sed -n '/^\(Commands\|Kinds\):/,/^$/s/^  \([a-z]*\) .*/\1/p' "$help"); do
    check "$@" "$below"
  done
}

check
grep -q '^evenleg - ' "$work/page" || wrong "NAME: no such line as whatis reads"
for heading in NAME SYNOPSIS DESCRIPTION OPTIONS COMMANDS 'EXIT STATUS' FILES CAUTIONS; do
  grep -qx ".SH $heading" "$work/page" || wrong "$heading: no such part"
done
grep -q 'They are estimates: they do not show that a fault exists' "$work/page" ||
  wrong "CAUTIONS: not the standing caution"
[ "$(LC_ALL=C tr -d '\000-\177' < "$2" | wc -c)" -eq 0 ] || wrong "the page is not in ASCII alone"
[ $checked -ge 300 ] || wrong "only $checked options were looked at"  # there are about 400
[ $status -ne 0 ] || echo "$checked options are in the page"
exit $status
