#!/bin/sh
# The walk on a real terminal that misbehaves: resized while one types, pasted into, killed, of several kinds; and that it
# says the same in colour, and nothing at all while nobody does anything.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

walk="$tundish walk --rulebook $overlay --on 2026-11-25"
cp "$root/surveys/house.yaml" house.yaml
cp house.yaml original.yaml

# One thing in that house is urgent: leaving asks.
leave() {
	keys q
	wait_for 'leaves all the same'
	keys y
	wait_for '[0]'
}

# -- resized while one types -------------------------------------------------------------------------

start "$walk new.yaml"
wait_for 'Premises sheet'
keys Enter
for size in '40 10' '1 1' '2 5' '200 50' '39 24' '80 9' '100 30' '160 50' '79 23' '80 24'; do
	keys -l 'ab'
	in_tmux resize-window -x "${size% *}" -y "${size#* }"
	keys -l 'c'
done
check 'what was typed is all there' wait_for 'abcabcabcabcabcabcabcabcabcabc'
keys Enter Home
check 'and kept' wait_for 'Name of the premises                     abcabcabc'

# -- pasted into -------------------------------------------------------------------------------------

paste_text() {
	printf "$1" >pasted
	in_tmux load-buffer pasted
	in_tmux paste-buffer -p
}

keys Enter C-u
paste_text 'one\ntwo\t\001three'
check 'a paste is one line, and no key' wait_for 'one two three'
paste_text ' four\033[201~q'
check 'its end in the midst of it leaves no field' wait_for 'one two three fourq'
keys -l ' end'
check 'the field is still open' wait_for 'fourq end'
keys Enter Home
check 'and takes what was pasted' wait_for 'one two three fourq end'
keys q
check 'nothing was left by it' wait_for 'Not saved yet'
keys d
check 'the end' wait_for '[0]'

# -- nothing while idle ------------------------------------------------------------------------------

start "$walk house.yaml"
check 'the house' wait_for 'How the house stands'
in_tmux pipe-pane -O "cat >'$work/bytes'"
sleep 3
check 'not a byte while nobody presses a key' [ ! -s bytes ]
keys Down
check 'and some when one does' wait_for '> 1'
in_tmux pipe-pane
check 'bytes are seen at all' [ -s bytes ]
leave

# -- the same text with and without colour -----------------------------------------------------------

for color in never always; do
	start "$walk --color $color house.yaml"
	wait_for 'How the house stands'
	keys ']' Down
	wait_for '>   ! K1'
	screen && cp out "house_$color"
	keys Enter
	wait_for 'was seen?'
	screen && cp out "form_$color"
	keys v
	wait_for 'Why'
	screen && cp out "verdict_$color"
	keys Escape l
	wait_for 'before leaving'
	screen && cp out "leaving_$color"
	leave
done
for view in house form verdict leaving; do
	check "$view: the same text with and without colour" cmp "${view}_never" "${view}_always"
done
check 'signs that are no ASCII where they can be shown' grep -q '▬\|░\|▐' verdict_never
start "$walk --ascii house.yaml"
wait_for 'How the house stands'
keys ']' Down Enter v
wait_for 'Why'
screen && cp out ascii
leave
check 'and ASCII alone where it is asked for' sh -c '! LC_ALL=C grep -q "[^ -~]" ascii'

# -- little room -------------------------------------------------------------------------------------

start "$walk house.yaml"
wait_for 'How the house stands'
in_tmux resize-window -x 40 -y 10
keys End Up Up Up
check 'what is said of a row stays beside its title' wait_for 'G1 Outsi~  paper short 2, next job'
in_tmux resize-window -x 80 -y 24
leave

# -- kinds of terminal -------------------------------------------------------------------------------

for term in xterm-256color screen-256color tmux-256color linux vt100; do
	infocmp "$term" >/dev/null 2>&1 || continue
	start "TERM=$term $walk house.yaml"
	check "$term: the house" wait_for 'How the house stands'
	keys ']' Down Enter
	check "$term: a form with its verdict" wait_for 'approves'
	keys Escape
	check "$term: and back" wait_for '|  the house'
	check "$term: the end" leave
done

# -- killed ------------------------------------------------------------------------------------------

sane() {
	[ "$(in_tmux display -p '#{alternate_on}#{cursor_flag}#{keypad_cursor_flag}#{bracketed_paste_flag}')" = "$1" ]
}

start "bash --norc -i"
keys -l "PS1='ready> '"
keys Enter
wait_for 'ready>'
normal=$(in_tmux display -p '#{alternate_on}#{cursor_flag}#{keypad_cursor_flag}#{bracketed_paste_flag}')
for signal in HUP TERM SEGV ABRT INT; do
	keys -l "clear; (echo \$BASHPID >pid; exec $walk house.yaml)"
	keys Enter
	check "$signal: it runs" wait_for 'How the house stands'
	kill -"$signal" "$(cat pid)"
	if [ "$signal" = INT ]; then
		wait_for 'leaves all the same'
		kill -INT "$(cat pid)"
	fi
	wait_for 'ready>'
	keys -l "clear; stty -a | tr ' ;' '\\n\\n' | grep -x '.*icanon\\|.*echo\\|.*ixon\\|.*isig' | tr '\\n' ' '; echo ."
	keys Enter
	check "$signal: the line is as it was" wait_for 'isig icanon'
	check "$signal: it echoes" grep -q ' echo' out
	check "$signal: the screen is as it was" sane "$normal"
	check "$signal: the file too" cmp house.yaml original.yaml
	rm -f .house.yaml.journal .house.yaml.lock
done
keys -l 'exit'
keys Enter

finish
