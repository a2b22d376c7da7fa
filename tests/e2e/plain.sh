#!/bin/sh
# The walk as lines: a house from nothing to a saved file by a script, by keys through a real terminal, the ends that keep the
# work, and which terminals get a screen.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

walk="$tundish walk --plain --rulebook $overlay --on 2026-11-25"

# Walk a file with the lines of standard input.
lines() {
	# shellcheck disable=SC2086
	$walk "$@" >out 2>err
	status=$?
}

# -- a house from nothing --------------------------------------------------------------------------

cat >script <<'L'
Elm Row 7
scotland
undo
wales
add
part
Flat
add
branch
rising main
b
add
room
Küche
add
1
cattle trough
yes
/What is fitted
E2E
verdict
save
q
L
lines new.yaml <script
check_status 'a whole house' 0
check 'nothing on standard error' err_is_empty
check 'the verdict' out_says 'Verdict: short: on paper short by 2, in fact short by 2'
check 'in words' out_says 'in fact: 3, short by 2'
check 'with its caution' out_says 'approves nothing'
check 'saved' out_says 'Saved.'
check 'no sequence for a terminal is in it' sh -c '! grep -q "$(printf "\033")" out'
check 'what was typed is in it' grep -qx '> Elm Row 7' out
cp new.yaml scripted.yaml
run faults --rulebook "$overlay" new.yaml
check_status 'the file is sound' 0
run assess --rulebook "$overlay" --on 2026-11-25 --format ndjson new.yaml
check_status 'something is short' 1
check 'the same verdict' out_says '"verdict": "short"'
check 'short by as much' out_says '"shortfall": {"on_paper": {"least": 2, "most": 2}, "in_fact": {"least": 2, "most": 2}}'
check 'in that room' out_says '"room": "Küche"'

# the dialogue is the session: what stands behind its prompts makes the same
rm new.yaml
lines new.yaml <script
sed -n 's/^> //p' out >again
rm new.yaml
lines new.yaml <again
check 'the lines of a dialogue make the same survey' cmp new.yaml scripted.yaml

# the same house by keys, through a real terminal
start "TERM=vt100 $tundish walk --rulebook $overlay --on 2026-11-25 keys.yaml"
wait_for 'Name of the premises' && keys Enter && keys -l 'Elm Row 7' && keys Enter && keys 2
wait_for 'Wales' && keys a && wait_for 'Add what?' && keys -l part && keys Enter && wait_for 'new part' && keys -l 'Flat' && keys Enter
wait_for 'Flat' && keys a && wait_for 'Add what?' && keys -l branch && keys Enter && wait_for 'new branch' && keys -l 'rising main' && keys Enter
wait_for 'rising main' && keys Escape && wait_for 'add a room' && keys End Enter && wait_for 'new room' && keys -l 'Küche' && keys Enter
wait_for 'nothing in it yet' && keys a && wait_for 'Add what?' && keys Enter && wait_for 'what is it?' && keys -l 'cattle t' && keys Enter
wait_for 'Is the water dirty' && keys y && keys -l '/' && keys -l 'What is fitted' && keys Enter && wait_for 'Found' && keys Enter Enter
wait_for 'Letters narrow' && keys -l 'test check' && keys Enter && wait_for 'short by 2' && keys s && wait_for 'Saved' && keys q
check 'the same house by keys' wait_for '[0]'
sed 's/^  ref: keys$/  ref: new/' keys.yaml >keys_as_scripted.yaml # made of the file's name
check 'is the same file' cmp keys_as_scripted.yaml scripted.yaml

# -- a terminal of lines ---------------------------------------------------------------------------

start "$walk house.yaml"
check 'lines on a terminal' wait_for '1 of '
keys -l 'j 3' && keys Enter
check 'a jump' wait_for '3 of '
keys -l '2' && keys Enter
check 'a number opens' wait_for '== =Kitchen, back =='
keys C-c
check 'Ctrl-C with nothing unsaved ends it' wait_for '[0]'

start "$walk house.yaml"
wait_for '1 of ' && keys 1 Enter && wait_for 'Premises sheet ==' && keys -l 'Elm Row 11' && keys Enter && wait_for '2 of '
keys C-c
check 'Ctrl-C asks' wait_for 'Not saved yet'
keys -l discard && keys Enter
check 'and is answered' wait_for '[0]'
check 'nothing was kept' [ ! -e .house.yaml.journal ]

start "bash --norc -i"
keys -l "PS1='ready> '; clear"
keys Enter
wait_for 'ready>'
keys -l "$walk house.yaml"
keys Enter
wait_for '1 of '
keys C-z
check 'Ctrl-Z stops it' wait_for 'Stopped'
keys -l 'clear; fg'
keys Enter
wait_for 'tundish walk'
keys -l 'j 3' && keys Enter
check 'and it goes on' wait_for '3 of '
keys -l q && keys Enter
check 'and ends' wait_for 'ready>'

# Which terminal gets what, and each is sane after.
for term in xterm-256color linux screen-256color tmux-256color vt100 dumb no-such-terminal ''; do
	start "TERM=$term $tundish walk --rulebook $overlay house.yaml; stty -a | grep -o '.icanon.*echo '"
	case $term in
	dumb | no-such-terminal | '')
		check "TERM=$term gets lines" wait_for '1 of 6. Premises sheet'
		check "TERM=$term is told why" grep -q 'tundish walk: ' out
		keys q Enter
		;;
	*)
		check "TERM=$term gets the screen" wait_for '+ add a room'
		keys Down
		keys Enter
		check "TERM=$term opens a form" wait_for 'Name of the room'
		check "TERM=$term shows the focus" grep -q '^>' out
		keys q
		;;
	esac
	check "TERM=$term ends" wait_for '[0]'
	check "TERM=$term: what comes next begins a line" grep -q '^\[0\]' out
	check "TERM=$term is sane after" wait_for ' icanon'
done
for value in 1 yes; do
	start "ACCESSIBLE=$value $tundish walk --rulebook $overlay house.yaml"
	check "ACCESSIBLE=$value gets lines" wait_for '1 of 6. Premises sheet'
done
for value in '' 0 false FALSE; do
	start "ACCESSIBLE=$value $tundish walk --rulebook $overlay house.yaml"
	check "ACCESSIBLE=$value gets the screen" wait_for '+ add a room'
done
in_tmux kill-server

# -- ends ------------------------------------------------------------------------------------------

cp house.yaml original.yaml
printf '1\nElm Row 9\n' >script
lines house.yaml <script
check_status 'the input ends with something unsaved' 4
check 'it is said' err_says 'the input ended before it was saved'
check 'the file is as it was' cmp house.yaml original.yaml
check 'the work is beside it' grep -q '=Elm Row 9$' .house.yaml.journal
rm -f .house.yaml.journal*

printf '1\nElm Row 9' >script
lines house.yaml <script
check 'a last line without its end counts' grep -q '=Elm Row 9$' .house.yaml.journal
rm -f .house.yaml.journal*

printf 'j 2\nlist\n' >script
lines house.yaml <script
check_status 'the input ends with nothing unsaved' 0
check 'without a word' err_is_empty
check 'and nothing is made' [ ! -e .house.yaml.journal ]

{
	printf '1\n'
	head -c 100000 /dev/zero | tr '\0' a
	printf '\nElm Row 9\nsave\n'
} >script
lines house.yaml <script
check 'a line too long is refused' out_says '! That line is too long'
check 'and the next is taken' grep -q '^  name: Elm Row 9$' house.yaml
cp original.yaml house.yaml

printf '1\r\nElm Row 9\r\nsave\r\n' >script
lines house.yaml <script
check 'lines may end as in DOS' grep -q '^  name: Elm Row 9$' house.yaml
cp original.yaml house.yaml

seq 300 | sed 's/.*/list/' >script
printf '1\nElm Row 9\n' | cat - script >script.full
{
	$walk house.yaml <script.full 2>err
	echo $? >code
} | head -1 >out
status=$(cat code)
check_status 'a reader that goes away' 4
check 'does not take the work with it' grep -q '=Elm Row 9$' .house.yaml.journal
rm -f .house.yaml.journal*

mkfifo fifo
for signal in HUP TERM; do
	# shellcheck disable=SC2086
	$walk house.yaml <fifo >out 2>err &
	pid=$!
	exec 7>fifo
	printf '1\nElm Row 10\n' >&7
	tries=0
	until { grep -q '^> Elm Row 10' out && [ "$(tail -c 3 out | tr '\n' '/')" = '/> ' ]; } || [ "$tries" -gt 200 ]; do
		tries=$((tries + 1))
		sleep 0.1
	done
	size=$(wc -c <out)
	sleep 1
	check 'nothing is written while nothing is typed' [ "$(wc -c <out)" -eq "$size" ]
	kill -STOP "$pid"
	kill -CONT "$pid"
	tries=0
	until [ "$(wc -c <out)" -gt "$size" ] && [ "$(tail -c 3 out | tr '\n' '/')" = '/> ' ] || [ "$tries" -gt 200 ]; do
		tries=$((tries + 1))
		sleep 0.1
	done
	check 'who was stopped and goes on is asked again' [ "$(tail -c "+$((size + 1))" out | grep -c '^[0-9].* of ')" -eq 1 ]
	kill -"$signal" "$pid"
	wait "$pid" 2>/dev/null
	status=$?
	exec 7>&-
	check "$signal ends it as that signal does" [ "$status" -gt 128 ]
	check "$signal keeps the work" grep -q '=Elm Row 10$' .house.yaml.journal
	check "$signal leaves the file" cmp house.yaml original.yaml
	rm -f .house.yaml.journal*
done

lines - </dev/null
check_status 'standard input is no file to keep' 2

# -- protected, and urgent all the same ------------------------------------------------------------

cat >loop.yaml <<'S'
tundish: 1
premises: { ref: loop, parts: [ { ref: flat, use: house } ] }
branches: [ { ref: cold, from: main } ]
rooms:
  - ref: k
    name: Kitchen
    part: flat
    points:
      - ref: K1
        kind: heating_filling_loop
        seen: yes
        inlets: { fill: { fed_by: cold, protection: [ { ref: K1a, type: ED, mark: yes, state: sound, fitted: 2024 } ] } }
        answers: { serves: one_house, in_the_system: water, connected: link_on, valves: hold, against_mains: below,
                   topped_up: hardly, temporary_fill: no, signs: yes }
S
printf 'short\nleaving\nq\nn\n' | $tundish walk --plain --on 2026-11-25 loop.yaml >out 2>err
check 'the walk goes to it' out_says 'K1 Heating filling point: protected, now'
check 'it is urgent before leaving' sh -c 'grep -A1 -e "-- Urgent: before you leave --" out | grep -q "K1 .*protected, now"'
check 'leaving asks about it' out_says '1 urgent, nothing done yet.'
sed 's/signs: yes/signs: no/' loop.yaml >link.yaml
printf 'leaving\nq\n' | $tundish walk --plain --on 2026-11-25 link.yaml >out 2>err
check 'a link left on waits for the next job' sh -c 'grep -A1 -e "-- Protected, but not all is done --" out | grep -q "K1 .*protected, next job"'
run assess --on 2026-11-25 link.yaml
check_status 'nothing is short' 0
check 'the table says why it is left to do' out_says '[filling_loop_left_on:'

finish
