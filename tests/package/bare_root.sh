#!/bin/sh
# Installs the package on a bare Debian 12, runs it there, takes it off again and looks for what is
# left. Usage: bare_root.sh PACKAGE.deb
#
# EVENLEG_MIRROR: where Debian is fetched from; as this machine does where it is not set.
# EVENLEG_BARE_ROOT: a bare root made earlier; it is copied and stays as it is.
# Exit status 77, with the reason, without debootstrap or the rights of root.
set -eu
skip() {
  echo "skipped: $1"
  exit 77
}
if [ $# -ne 1 ] || [ ! -f "$1" ]; then
  echo "usage: bare_root.sh PACKAGE.deb" >&2
  exit 2
fi
[ "$(id -u)" -eq 0 ] || skip "only root may make a root"
bare=${EVENLEG_BARE_ROOT-}
[ -n "$bare" ] || command -v debootstrap > /dev/null ||
  skip "debootstrap is not installed (Debian: apt install debootstrap)"

# The first of this machine's own Debian mirrors.
mirror_here() {
  cat /etc/apt/sources.list /etc/apt/sources.list.d/*.list /etc/apt/sources.list.d/*.sources \
    2> /dev/null |
    sed -n -e 's/^deb  *\(\[[^]]*\] *\)\{0,1\}\([^ ]*\/debian\)\/\{0,1\} .*/\2/p' \
      -e 's/^URIs:  *\([^ ]*\/debian\)\/\{0,1\} *$/\1/p' | head -n 1
}
mirror=${EVENLEG_MIRROR-$(mirror_here)}
mirror=${mirror:-http://deb.debian.org/debian}

work=$(mktemp -d)
root=$work/root
trap 'rm -rf "$work"' EXIT
if [ -n "$bare" ]; then
  cp -a "$bare" "$root"
  echo "root: a copy of $bare"
else
  debootstrap --variant=minbase bookworm "$root" "$mirror" > "$work/made" ||
    { tail -n 20 "$work/made"; exit 1; }
  echo "root: minbase of bookworm, from $mirror"
fi
cp /etc/resolv.conf "$root/etc/resolv.conf"
cp "$1" "$root/evenleg.deb"

in_root() {
  chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LC_ALL=C \
    DEBIAN_FRONTEND=noninteractive "$@"
}
# Every file and folder, but for the logs, lists and old copies that apt and dpkg keep of their own.
files() {
  (cd "$root" && find . -xdev ! -path './var/log/*' ! -path './var/cache/*' \
    ! -path './var/lib/apt/*' ! -name '*-old' ! -path './root/try-out*' | LC_ALL=C sort)
}
installed() {
  # shellcheck disable=SC2016  # dpkg's own variables
  in_root dpkg-query -W -f '${Package} ${Status}\n' | sed -n 's/ install ok installed$//p' | sort
}

in_root apt-get update -qq
files > "$work/files.before"
installed > "$work/packages.before"
in_root apt-get install -y -qq ./evenleg.deb > "$work/apt" 2>&1 || { cat "$work/apt"; exit 1; }
installed > "$work/packages.after"
echo "installed, with $(comm -13 "$work/packages.before" "$work/packages.after" | tr '\n' ' ')"

in_root evenleg --version
in_root evenleg demo /root/try-out > "$work/demo"
grep -q '^Made here:' "$work/demo"
[ -s "$root/root/try-out/fernhill-cottage-record.html" ]
head -n 12 "$work/demo"
examples=/usr/share/doc/evenleg/examples
for house in amselgrund coopers-quay-apartment fernhill-cottage; do
  in_root evenleg audit --no-proof "$examples/$house.toml" > "$work/audit"
  grep -qi 'neutral' "$work/audit"
  echo "audit of $house: $(wc -l < "$work/audit") lines"
done
status=0
in_root evenleg audit /nowhere.house > "$work/audit" 2>&1 || status=$?
[ $status -eq 3 ] || { echo "a house that is not there: status $status, not 3"; exit 1; }
# shellcheck disable=SC2016  # bash's variables, in the root
in_root bash -c '. /usr/share/bash-completion/completions/evenleg &&
  COMP_WORDS=(evenleg de) COMP_CWORD=1 && _evenleg && [ "${COMPREPLY[*]}" = "demo demand" ]'

# With it and the libraries that came for it gone, the root is as it was.
owned=$(in_root dpkg -L evenleg | grep -c evenleg)
in_root apt-get purge -y -qq --auto-remove evenleg > "$work/apt" 2>&1 ||
  { cat "$work/apt"; exit 1; }
files | diff "$work/files.before" - || { echo "not as it was before: see above"; exit 1; }
echo "purged: none of its $owned files and folders is left, nor anything else"
