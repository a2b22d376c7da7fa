#!/bin/sh
# The manners of the screen in a real terminal: colours and signs, what is pasted, the cursor, and the terminal after a crash.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

walk="$tundish walk --rulebook $overlay --on 2026-11-25"
red=$(printf '\033\\[[0-9;]*31[m;]')
any_color=$(printf '\033\\[[0-9;]*[349][0-7][m;]')

# The house with a short point in it, as the terminal holds it, with its looks, in `looks`.
look_at() {
	start "$1"
	wait_for 'short by 2' || return 1
	in_tmux capture-pane -e -p >looks
	cp out text
	keys q
	wait_for '[0]'
}

has() {
	grep -q "$1" looks
}

has_not() {
	! grep -q "$1" looks
}

# -- colours ---------------------------------------------------------------------------------------

check 'a walk in colour' look_at "$walk house.yaml"
check 'what is short is red' has "$red"
cp text plain_text
check 'NO_COLOR' look_at "NO_COLOR=1 $walk house.yaml"
check 'means none' has_not "$any_color"
check 'and the same text' cmp text plain_text
check 'NO_COLOR set to nothing' look_at "NO_COLOR= $walk house.yaml"
check 'is not set' has "$red"
check '--color never' look_at "$walk --color never house.yaml"
check 'means none' has_not "$any_color"
check '--color always' look_at "NO_COLOR=1 $walk --color always house.yaml"
check 'is asked for by hand, and wins' has "$red"
check '--color auto' look_at "NO_COLOR=1 $walk --color=auto house.yaml"
check 'heeds NO_COLOR' has_not "$any_color"

for theme in any mono light dark; do
	check "--theme $theme" look_at "$walk --theme $theme house.yaml"
	check "--theme $theme: the same text" cmp text plain_text
	# Attributes 0, 1, 4, 7; red, green, cyan; the terminal's own colours.
	check "--theme $theme: only what reads on any background" sh -c \
		'! grep -o "$(printf "\033")\[[0-9;]*m" looks | tr -dc "0-9;\n" | tr ";" "\n" | grep -vxE "0?|1|4|7|2[247]|31|32|36|39|49"'
done
check 'the one for the sun' look_at "$walk --theme mono --color always house.yaml"
check 'has no colour' has_not "$any_color"
check 'and shows what is short in reverse' has "$(printf '\033\\[1;7m')"

# By a key too, there and back.
start "$walk house.yaml"
wait_for 'short by 2'
keys g
check 'g: for the sun' wait_for 'For the sun'
in_tmux capture-pane -e -p >looks
check 'has no colour either' has_not "$any_color"
keys g
check 'g again: as before' wait_for 'As before'
in_tmux capture-pane -e -p >looks
check 'in colour' has "$red"
keys q
wait_for '[0]'

# -- letters in the C locale -------------------------------------------------------------------------

start "LC_ALL=C $walk letters.yaml"
wait_for 'Premises sheet'
keys Enter
keys -l 'Küche am Süd'
check 'a letter that is no ASCII is shown as ?, and nothing after it is lost' wait_for 'K?che am S?d'
keys Enter s
wait_for 'Saved'
keys q
wait_for '[0]'
check 'and kept as it is' grep -q 'name: Küche am Süd' letters.yaml

# -- input and output that are something else ------------------------------------------------------

start "echo nothing | $walk house.yaml >data"
check 'the terminal takes their place' wait_for 'short by 2'
keys q
check 'and it ends as ever' wait_for '[0]'
check 'nothing went to the output' [ ! -s data ]

# -- signs -----------------------------------------------------------------------------------------

for how in "LC_ALL=C $walk" "$walk --ascii"; do
	start "$how house.yaml"
	wait_for 'short by 2'
	keys Down Down Enter
	check 'a form' wait_for 'Is the water dirty'
	check "ASCII alone: ${how%%[ /]*}" sh -c '! LC_ALL=C grep -q "[^ -~]" out'
	keys q
	wait_for '[0]'
done

# -- the cursor, and what is pasted ----------------------------------------------------------------

cursor() {
	in_tmux display-message -p '#{cursor_flag} #{cursor_x} #{cursor_y}'
}

start "$walk house.yaml"
wait_for 'short by 2'
keys Down Down
check 'the focus moves' wait_for '>'
tries=0
until screen && grep -nq '^> *!* *P1' out || [ "$tries" -gt 100 ]; do
	tries=$((tries + 1))
	sleep 0.1
done
row=$(grep -n '^>' out | head -1 | cut -d: -f1)
check 'the cursor is seen, on the line in focus' [ "$(cursor | cut -d' ' -f1,3)" = "1 $((row - 1))" ]
keys Home Enter
wait_for 'Name of the premises'
keys Enter
printf 'Elm\nRow\tq 7' >pasted
in_tmux load-buffer pasted
in_tmux paste-buffer -p
check 'a newline that is pasted leaves no field' wait_for 'Elm Row q 7'
check 'nothing was kept yet' sh -c '! grep -q "not saved" out'
keys Enter
check 'one press keeps it' wait_for '(not saved)'
keys u
check 'one press takes it back' wait_for 'Taken back'
keys q
check 'nothing is left to save' wait_for '[0]'

# -- after a crash ---------------------------------------------------------------------------------

for signal in SEGV ABRT BUS FPE ILL QUIT; do
	start "sh -c 'echo \$\$ >pid; exec $walk house.yaml'; stty -a | grep -o '.icanon'; stty -a | grep -o '.ixon'; printf 'paste %s' off"
	wait_for 'short by 2'
	kill -"$signal" "$(cat pid)"
	check "$signal ends it" wait_for 'paste off'
	check "$signal: lines are read as before" grep -q ' icanon' out
	check "$signal: the screen of before is back" sh -c '! grep -q "short by 2" out'
	check "$signal: the cursor is seen" [ "$(cursor | cut -d' ' -f1)" = 1 ]
done

finish
