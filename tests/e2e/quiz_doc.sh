#!/bin/sh
# docs/quiz_walk.md shows a quiz as it is: page.sh says how.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/terminal.sh"
. "$(dirname "$0")/page.sh"
cd "$work" || exit 1

cp "$root/surveys/house.yaml" .
export XDG_STATE_HOME="$work/state"
quiz="$tundish quiz --on 2026-11-25 --learner apprentice"

plain() {
	# shellcheck disable=SC2086
	$quiz --plain $1
}

in_place() {
	start "$quiz $1"
	wait_for 'Task 1 of'
	resize "$size"
}

start true
hold_page "$root/docs/quiz_walk.md" 8
keys q
keys y
check 'a quiz can be left from there' wait_for '[0]'

finish
