#!/bin/bash
# Asks the completion as bash would, in a folder with two houses.
# Usage: completion.sh SCRIPT PROGRAM
set -u
program=$2
# shellcheck source=/dev/null  # made while building
source "$1" || exit 1
[ "$(complete -p evenleg)" = 'complete -F _evenleg evenleg' ] || { echo "not set up"; exit 1; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
mkdir 'old houses'
touch Fernhill.house fernhill.toml
status=0

# offered WORD…: what is offered for the last of them, in a row; "|" between.
offered() {
  COMP_WORDS=(evenleg "$@")
  COMP_CWORD=$#
  COMPREPLY=()
  _evenleg
  local IFS='|'
  printf '%s' "${COMPREPLY[*]}"
}

# expect ANSWER WORD…
expect() {
  local answer=$1
  shift
  local seen
  seen=$(offered "$@")
  [ "$seen" = "$answer" ] || { echo "evenleg $*: \"$seen\", not \"$answer\""; status=1; }
}

expect 'demo|demand|diagnose' d
expect 'new|neutral' --data tables ne
expect '--version' --v
expect 'Fernhill.house' audit F
expect 'fernhill.toml' demand fern
expect 'old houses' demo ''
expect 'old houses' audit --data ''
expect '--fail-on-danger' audit Fernhill.house --f
expect '--no-audit|--no-proof' balance Fernhill.house --no-
expect '' audit Fernhill.house ''
expect '' audit Fernhill.house --scenario ''
expect 'electrician|inspector|contractor|client|event' report Fernhill.house --for ''
expect 'inspector' report Fernhill.house --for ins
expect 'client' report Fernhill.house --for = cl  # as bash parts --for=cl
expect 'letter|a4' report --paper ''
expect 'letter|a4' report --paper =
expect 'day-first|month-first' diagnose Fernhill.house --log l.csv --log-dates ''
expect 'standard' demand Fernhill.house --method s
expect '120/240\ split-phase|120/208\ two-leg|120/208\ wye|127/220\ wye' new My.house --system 12
expect 'summary,findings' report Fernhill.house --sections summary,fin
expect 'Fernhill.house' add F
expect 'circuit' add Fernhill.house ci
expect '--breaker_a' add Fernhill.house circuit Den --br
expect 'GFCI' set Fernhill.house circuit Den --protection G
expect 'true|false' set Fernhill.house circuit Den --locked ''
expect 'transformer' remove Fernhill.house t
expect '' remove Fernhill.house transformer ''
expect 'service' remove --data tables Fernhill.house ser

# Every command and option of the help is offered, and nothing else.
# help_words COMMAND…: what --help lists.
help_words() {
  "$program" "$@" --help |
    sed -n -e '/^Options:/,/^$/s/^  \(-[^ ]*\).*/\1/p' \
      -e '/^\(Commands\|Kinds\):/,/^$/s/^  \([a-z]*\) .*/\1/p' |
    tr ',' '\n' | sort
}
same_as_help() {  # same_as_help "add H" add: words typed, then words of the help
  local typed
  read -r -a typed <<< "$1"
  shift
  diff <({ offered "${typed[@]}" -; echo; offered "${typed[@]}" ''; echo; } | tr '|' '\n' |
    grep -v -e '^$' -e '\.house$' -e '\.toml$' -e ' ' | sort) <(help_words "$@") ||
    { echo "evenleg $*: not what its help says"; status=1; }
}
same_as_help '' ; commands=$(help_words | grep -v '^-')
for command in $commands; do
  case $command in
    add | set | remove)
      same_as_help "$command Fernhill.house" "$command"
      for kind in $(help_words "$command" | grep -v '^-'); do
        same_as_help "$command Fernhill.house $kind x" "$command" "$kind"
      done ;;
    *) same_as_help "$command x y" "$command" ;;
  esac
done
[ "$(echo "$commands" | wc -l)" -ge 16 ] || { echo "too few commands were looked at"; status=1; }
exit $status
