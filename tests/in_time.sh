# Read by the tests that skip where a program is absent: with EVENLEG_SKIP_AFTER set, in seconds since
# 1970, they skip from then on too, with the reason. Continuous integration sets it, whose time is
# limited; nothing else does.
if [ -n "${EVENLEG_SKIP_AFTER-}" ] && [ "$(date +%s)" -gt "$EVENLEG_SKIP_AFTER" ]; then
  echo "skipped: past the time that continuous integration has for it"
  exit 77
fi
