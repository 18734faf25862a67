#!/bin/sh
# The page of `evenleg open`, driven in Chromium: page.sh PROGRAM SOURCE. Skipped with 77 and a reason
# where there is no Chromium, no driver of it or no node.
set -eu
# Half a minute of what this page is judged by: it goes before what else is left out near the end.
[ -z "${EVENLEG_SKIP_AFTER-}" ] || EVENLEG_SKIP_AFTER=$((EVENLEG_SKIP_AFTER + 120))
. "$(dirname "$0")/../in_time.sh"
command -v node >/dev/null || { echo "skipped: no node is installed (Debian: apt install nodejs)"; exit 77; }
exec node "$(dirname "$0")/page.mjs" "$@"
