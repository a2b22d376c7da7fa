#!/bin/sh
# A house from nothing to a saved file, by keys alone through a real terminal; then `assess` says of it what the walk said.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

walk="$tundish walk --rulebook $overlay --on 2026-11-25"

# Type a text and keep it; what comes after it must have appeared.
say() {
	keys -l "$1" && keys Enter
}

# -- the premises sheet ----------------------------------------------------------------------------

start "$walk new.yaml"
check 'a new survey begins at the premises sheet' wait_for 'Premises sheet'
check 'and says what comes next' wait_for 'go on to the rooms'
check 'on its first question' wait_for '>  Name of the premises'
check 'the footer says what can be done' wait_for 'q leave'
keys Enter
say 'Elm Row 7'
check 'a name' wait_for 'Elm Row 7'
keys Home Down 2
check 'a choice by its number' wait_for 'Wales'
keys a
check 'what can be added is listed' wait_for 'Add what?'
keys -l part
keys Enter
check 'a part has a name' wait_for 'Name of the new part'
say 'Flat'
check 'the part is there' wait_for 'Flat (flat)'
keys a
wait_for 'Add what?'
keys -l branch
keys Enter
wait_for 'Name of the new branch'
say 'rising main'
check 'a branch is there' wait_for 'rising main (rising_main)'

# -- a room and what is in it ----------------------------------------------------------------------

keys Escape
check 'the house' wait_for '+ add a room'
keys End Enter
check 'a room has a name' wait_for 'Name of the new room'
say 'Küche'
check 'the room is there' wait_for 'nothing in it yet'
keys a
wait_for 'Add what?'
keys Enter
check 'its kind is asked' wait_for 'what is it?'
say 'cattle t'
check 'the form of the new one' wait_for 'K1 Cattle trough'
check 'the verdict is undecided' wait_for 'undecided: '
check 'with the caution' wait_for 'the undertaker decides'
check 'on the question that can move it' wait_for '>* Is the water dirty?'
keys y
check 'Space goes on' wait_for '[ ]'
keys Space
check 'to what is fitted' wait_for '>* What is fitted'
keys Enter
wait_for 'Letters narrow'
say 'test check'
check 'a protection' wait_for 'E2E Test check'
check 'short by 2 on paper and in fact' wait_for 'short: on paper short by 2, in fact short by 2'
keys u
check 'undo' wait_for 'Test check taken back'
check 'the verdict follows' wait_for 'undecided: '
keys C-r
check 'redo' wait_for 'Test check added again'
check 'the verdict follows again' wait_for 'in fact short by 2'

# -- the terminal: another size, stopped and back --------------------------------------------------

for size in '40 10' '1 1' '200 50' '100 30' '80 24'; do
	in_tmux resize-window -x "${size% *}" -y "${size#* }"
done
check 'all sizes later it is all there' wait_for 'in fact short by 2'
in_tmux resize-window -x 20 -y 5
check 'too small says so' wait_for 'too small'
in_tmux resize-window -x 80 -y 24
check 'and comes back' wait_for 'in fact short by 2'

# -- saved, and assessed ---------------------------------------------------------------------------

keys q
check 'leaving asks' wait_for 'Not saved yet'
keys Enter
check 'and stays where it is not told otherwise' wait_for 'Stayed'
keys s
check 'saved' wait_for 'Saved'
keys q
check 'left' wait_for '[0]'
run faults --rulebook "$overlay" new.yaml
check_status 'the file is sound' 0
run assess --rulebook "$overlay" --on 2026-11-25 --format ndjson new.yaml
check_status 'something is short' 1
check 'the same verdict' out_says '"verdict": "short"'
check 'short by as much' out_says '"shortfall": {"on_paper": {"least": 2, "most": 2}, "in_fact": {"least": 2, "most": 2}}'
check 'in that room' out_says '"room": "Küche"'

# -- opened again ----------------------------------------------------------------------------------

start "$walk new.yaml"
check 'it opens at the house' wait_for '+ add a room'
check 'with its verdict in words' wait_for 'short by 2'
keys Down Down Enter
check 'the answer is there' wait_for 'yes'
keys -l '?'
check 'help says why it is asked' wait_for 'Keys in a form'
keys Escape
wait_for 'K1 Cattle trough'
keys v
check 'the whole verdict' wait_for 'What could come back'
keys q
check 'nothing changed: it ends at once' wait_for '[0]'

# the same text without colour
for color in never always; do
	start "$walk --color $color new.yaml"
	wait_for 'short by 2'
	keys Down Down
	wait_for '>'
	screen
	cp out "screen_$color"
	keys q
	wait_for '[0]'
done
check 'the same text with and without colour' cmp screen_never screen_always

# stopped as by Ctrl-Z, from a shell with job control
start "bash --norc -i"
keys -l "PS1='ready> '"
keys Enter
wait_for 'ready>'
keys -l "$walk new.yaml"
keys Enter
check 'it runs below a shell' wait_for '+ add a room'
keys Down
keys C-z
check 'Ctrl-Z stops it' wait_for 'Stopped'
keys -l "stty -a | grep -o '.icanon'"
keys Enter
check 'the terminal is as the shell had it' wait_for ' icanon'
keys -l 'clear; fg'
keys Enter
check 'and it comes back' wait_for '+ add a room'
keys q
check 'and ends' wait_for 'ready>'

finish
