#!/bin/sh
# docs/walk.md shows the walk as it is: page.sh says how.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/terminal.sh"
. "$(dirname "$0")/page.sh"
cd "$work" || exit 1

walk="$tundish walk --on 2026-11-25"

plain() {
	$walk --plain "$1"
}

start "$walk house_by_keys.yaml"
wait_for 'Premises sheet'
hold_page "$root/docs/walk.md" 10
keys q
keys d
check 'the walk can be left from there' wait_for '[0]'

finish
