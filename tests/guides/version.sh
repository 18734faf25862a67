#!/bin/sh
# What --version tells, held to the data files. Usage: version.sh PROGRAM SOURCE VERSION COMPILER
set -eu
said=$("$1" --version)
editions=$(mktemp)
trap 'rm -f "$editions"' EXIT
status=0
wrong() {
  echo "$1"
  status=1
}
[ "$(echo "$said" | sed -n 1p)" = "evenleg $3" ] || wrong "the first line is not the version alone"
echo "$said" | sed -n 2p | grep -Eqx "build: $4, [A-Za-z]+, commit ([0-9a-f]{12}|unknown)" ||
  wrong "the second line is not the build"
[ "$("$1" --version)" = "$said" ] || wrong "asked again, it says something else"
! echo "$said" | grep -E '^.{101}' || wrong "wider than 100 columns"
holds() {
  echo "$said" | grep -qF "$1" || wrong "no \"$1\""
}
for method in standard optional existing recorded canadian; do
  edition=$(sed -n 's/^default_edition = //p' "$2/data/demand-$method.toml")
  echo "$said" | grep -q ", $method: .*, $edition when none is named" ||
    wrong "$method: no $edition"
done
sed -n 's/^edition = "\(.*\)"/\1/p' "$2/data/voltage-limits.toml" |
  grep -v '^see each' > "$editions"
while read -r edition; do holds ": $edition"; done < "$editions"
holds "NFPA 70: up to 2023"
[ $status -eq 0 ] || echo "$said"
exit $status
