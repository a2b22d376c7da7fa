#!/bin/sh
# The file under a walk: what was answered is saved and nothing else changes; what another wrote is never lost; nor is work when
# the terminal goes away.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

# Open the premises sheet and say another name for the premises.
rename() {
	wait_for 'the house' && keys Enter && wait_for 'Name of the premises' && keys Enter && keys C-u &&
		keys -l "$1" && keys Enter && wait_for "$1" && wait_for '(not saved)'
}

walk="$tundish walk --rulebook $overlay"

cp house.yaml original.yaml
start "$walk house.yaml"
check 'the walk opens' wait_for 'the house'
keys q
check 'nothing changed: it ends at once' wait_for '[0]'
check 'and the file is as it was' cmp house.yaml original.yaml

start "$walk house.yaml"
check 'a new name' rename 'Elm Row 7'
check 'is not in the file before it is saved' cmp house.yaml original.yaml
keys s
check 'saving says so' wait_for 'Saved'
keys q
check 'saved: it ends at once' wait_for '[0]'
diff original.yaml house.yaml >changes
check 'one line was added, none changed' [ "$(grep -c '^[<>]' changes)" -eq 1 ]
check 'what it was is kept' cmp house.yaml~ original.yaml
check 'it is the name' grep -q '^>   name: Elm Row 7$' changes

# -- another changes the file meanwhile

cp original.yaml house.yaml
start "$walk house.yaml"
check 'a new name' rename 'Elm Row 8'
echo '# by another hand' >>house.yaml
cp house.yaml theirs.yaml
keys s
check 'the conflict is said' wait_for 'Save again to write house.yaml.mine'
check 'theirs is not touched' cmp house.yaml theirs.yaml
check 'and nothing else made' [ ! -e house.yaml.mine ]
keys s
check 'the second save' wait_for 'Saved as house.yaml.mine'
check 'theirs is not touched still' cmp house.yaml theirs.yaml
check 'ours is beside it' grep -q '^  name: Elm Row 8$' house.yaml.mine
keys q
check 'and the walk ends' wait_for '[0]'

# -- to another file

# Arguments: what is typed as the path, what is said, the file that it is then. The home folder is ./home.
save_as() {
	cp original.yaml house.yaml
	start "HOME=$work/home $walk house.yaml"
	check "$1: a new name" rename 'Elm Row 8a'
	keys C-o
	check "$1: its path is asked for, from where it is on" wait_for 'Save to: house.yaml'
	keys C-u
	keys -l "$1"
	keys Enter
	check "$1: where it went is said" wait_for "$2"
	check "$1: the file is as it was" cmp house.yaml original.yaml
	check "$1: it is there" grep -q '^  name: Elm Row 8a$' "$3"
	keys Up Enter C-u
	keys -l 'Elm Row 8b'
	keys Enter
	wait_for '(not saved)'
	keys s
	check "$1: a later save" wait_for 'Saved'
	check "$1: goes there too" grep -q '^  name: Elm Row 8b$' "$3"
	check "$1: and the first file is still as it was" cmp house.yaml original.yaml
	keys q
	check "$1: then it ends" wait_for '[0]'
	check "$1: no lock is left" [ ! -e "$(dirname "$3")/.$(basename "$3").lock" ]
	check "$1: no journal either" [ ! -e "$(dirname "$3")/.$(basename "$3").journal" ]
	check "$1: nor beside the first" [ ! -e .house.yaml.journal ]
}

mkdir home below
save_as other.yaml "Saved as $work/other.yaml; later saves go there too" other.yaml
save_as below/other.yaml "Saved as $work/below/other.yaml" below/other.yaml
save_as "$work/below/absolute.yaml" "Saved as $work/below/absolute.yaml" below/absolute.yaml
save_as '~/mine.yaml' 'Saved as ~/mine.yaml' home/mine.yaml
save_as below "Saved as $work/below/house.yaml" below/house.yaml
save_as '~' 'Saved as ~/house.yaml' home/house.yaml
cp original.yaml house.yaml
cp other.yaml theirs.yaml
start "$walk house.yaml"
rename 'Elm Row 8c'
keys C-o C-u
keys -l other.yaml
keys Enter
check 'what is there is not overwritten' wait_for 'is there already'
check 'and as it was' cmp other.yaml theirs.yaml
keys C-o C-u
keys -l nowhere/other.yaml
keys Enter
check 'a folder that is not there is said' wait_for 'No such file'
keys C-o C-u
keys -l ./house.yaml
keys Enter
check 'its own path saves it' wait_for 'Saved'
check 'there' grep -q '^  name: Elm Row 8c$' house.yaml
keys q
wait_for '[0]'

# -- what was not saved

cp original.yaml house.yaml
start "$walk house.yaml"
check 'a new name' rename 'Elm Row 9'
keys q
check 'leaving asks' wait_for 'Not saved yet'
keys d
check 'discarding ends it' wait_for '[0]'
check 'the file is as it was' cmp house.yaml original.yaml
check 'no journal is left' [ ! -e .house.yaml.journal ]
check 'but one generation of it' [ -e .house.yaml.journal~ ]
check 'and no lock' [ ! -e .house.yaml.lock ]

# Wait until a file is there, or is not: there, gone.
until_file() {
	tries=0
	while [ "$tries" -lt 100 ]; do
		if [ -e "$2" ]; then found=there; else found=gone; fi
		[ "$found" = "$1" ] && return 0
		tries=$((tries + 1))
		sleep 0.1
	done
	return 1
}

for signal in HUP TERM KILL; do
	start "echo \$\$ >pid; exec $walk house.yaml"
	check "a new name before $signal" rename 'Elm Row 10'
	check "is on disk before it is saved" grep -q 'Elm Row 10$' .house.yaml.journal
	check "for nobody else to read" [ "$(stat -c %a .house.yaml.journal)" = 600 ]
	kill -"$signal" "$(cat pid)"
	[ "$signal" = KILL ] || check "$signal gives the lock back" until_file gone .house.yaml.lock
	check "$signal leaves the file" cmp house.yaml original.yaml
	start "$walk house.yaml"
	check "after $signal it is offered" wait_for 'r  recover'
	check 'with how much there is' wait_for 'It left 1 change in'
	keys v Enter
	check 'the difference is shown' wait_for 'premises/name: (nothing) -> Elm Row 10'
	keys r Enter
	check 'it is recovered' wait_for 'Recovered'
	check 'and not saved yet' wait_for '(not saved)'
	check 'nor in the file' cmp house.yaml original.yaml
	keys s
	check 'it can be saved' wait_for 'Saved'
	check 'and is in the file' grep -q '^  name: Elm Row 10$' house.yaml
	check 'the journal has done its work' [ ! -e .house.yaml.journal ]
	keys q
	check 'nothing more is asked' wait_for '[0]'
	cp original.yaml house.yaml
done

# -- what an earlier walk left, and a script

leave_work() {
	rm -f .house.yaml.journal*
	cp original.yaml house.yaml
	start "echo \$\$ >pid; exec $walk house.yaml"
	rename "$1" && kill -KILL "$(cat pid)"
}

leave_work 'Elm Row 11'
run walk --plain --rulebook "$overlay" house.yaml
check_status 'no terminal to ask on' 2
check 'what to do is said' err_says '--unsaved recover, --unsaved discard or --read-only'
check 'and nothing is lost' [ -e .house.yaml.journal ]
run walk --plain --read-only --rulebook "$overlay" house.yaml
check_status 'read-only it can be looked at' 0
check 'and the journal stays' [ -e .house.yaml.journal ]
printf 's\nq\n' >input
"$tundish" walk --plain --unsaved recover --rulebook "$overlay" house.yaml <input >out 2>err
status=$?
check_status 'a script recovers' 0
check 'and saves' grep -q '^  name: Elm Row 11$' house.yaml
check 'then it is done' [ ! -e .house.yaml.journal ]
leave_work 'Elm Row 12'
run walk --plain --unsaved discard --rulebook "$overlay" house.yaml
check_status 'a script discards' 0
check 'the file is as it was' cmp house.yaml original.yaml
check 'one generation is kept' grep -q 'Elm Row 12$' .house.yaml.journal~
check 'the journal is gone' [ ! -e .house.yaml.journal ]

leave_work 'Elm Row 13'
start "$walk house.yaml"
check 'it is offered' wait_for 'r  recover'
keys q Enter
check 'one may go again' wait_for '[0]'
check 'and find it there' [ -e .house.yaml.journal ]
echo '# by another hand' >>house.yaml
cp house.yaml theirs.yaml
start "$walk house.yaml"
check 'that the file was changed is said' wait_for 'changed by another hand'
check 'then read-only is the first choice' wait_for 'Which? [o]'
keys Enter
check 'it opens read-only' wait_for '(read-only)'
keys Enter
wait_for 'Name of the premises'
keys Enter
keys -l 'Nobody'
keys Enter
check 'and takes no change' wait_for 'Read-only: nothing was changed'
keys Escape
keys q
keys q
check 'and ends' wait_for '[0]'
check 'theirs is as it was' cmp house.yaml theirs.yaml
start "$walk house.yaml"
wait_for 'Which? [o]'
keys r Enter
check 'it can be recovered all the same' wait_for 'Recovered'
keys s
check 'and saved' wait_for 'Saved'
check 'both are in the file' grep -q '^# by another hand' house.yaml
check 'and ours' grep -q '^  name: Elm Row 13$' house.yaml
keys q
wait_for '[0]'
start "$walk house.yaml"
check 'then nothing is asked' wait_for 'the house'
keys q
wait_for '[0]'
leave_work 'Elm Row 14'
printf 'torn' >>.house.yaml.journal
start "$walk house.yaml"
check 'a torn end is told of' wait_for 'Its last 4 bytes are torn'
keys d Enter
check 'discarding is said' wait_for 'What was discarded is in'
keys q
wait_for '[0]'
check 'and kept, torn end and all' grep -q 'torn$' .house.yaml.journal~

# -- two people

cp original.yaml house.yaml
start "echo \$\$ >pid; exec $walk house.yaml"
check 'the first has it' wait_for 'the house'
check 'its lock says who' grep -q "^pid: $(cat pid)$" .house.yaml.lock
run walk --plain --rulebook "$overlay" house.yaml
check_status 'a script does not wait for it' 4
check 'who has it is said' err_says "process $(cat pid)"
run walk --plain --read-only --rulebook "$overlay" house.yaml
check_status 'read-only it can be looked at' 0
check 'the lock is still there' [ -e .house.yaml.lock ]
kill -KILL "$(cat pid)"
check 'a killed one leaves its lock' [ -e .house.yaml.lock ]
run walk --plain --rulebook "$overlay" house.yaml
check_status 'which is in nobody'"'"'s way' 0
check 'and goes' [ ! -e .house.yaml.lock ]
printf 'tundish-lock-1\nwho: kim\nhost: van.example\npid: 4711\nsince: 2026-11-25T09:12:03Z\n' >.house.yaml.lock
start "$walk house.yaml"
check 'of another host nothing is assumed' wait_for 'kim on van.example, process 4711, since 2026-11-25T09:12:03Z'
check 'read-only is the first choice' wait_for 'Which? [o]'
keys Enter
check 'and is what opens' wait_for '(read-only)'
keys q
wait_for '[0]'
check 'their lock stays' grep -q van.example .house.yaml.lock
start "$walk house.yaml"
wait_for 'Which? [o]'
keys t Enter
check 'it can be taken over' wait_for 'the house'
check 'then it is ours' grep -vq van.example .house.yaml.lock
keys q
wait_for '[0]'
check 'and is given back' [ ! -e .house.yaml.lock ]

# -- a save that was killed

printf 'half a sur' >.house.yaml.k1ll3d.tmp
cp original.yaml house.yaml
start "$walk house.yaml"
check 'what it left is told of' wait_for '.house.yaml.k1ll3d.tmp, 10 bytes'
check 'keeping it is the first choice' wait_for 'Which? [k]'
keys Enter
wait_for 'the house' && keys q
wait_for '[0]'
check 'then it is kept' [ -e .house.yaml.k1ll3d.tmp ]
printf 'q\n' >input
"$tundish" walk --plain --rulebook "$overlay" house.yaml <input >out 2>err
status=$?
check_status 'a script is not asked' 0
check 'it is told' out_says '.house.yaml.k1ll3d.tmp'
check 'and removes nothing' [ -e .house.yaml.k1ll3d.tmp ]
start "$walk house.yaml"
wait_for 'Which? [k]'
keys r Enter
wait_for 'the house' && keys q
wait_for '[0]'
check 'it is removed when asked' [ ! -e .house.yaml.k1ll3d.tmp ]
start "$walk house.yaml"
check 'then nothing is asked' wait_for 'the house'
keys q
wait_for '[0]'

# -- another name of the same file

ln house.yaml linked.yaml
start "$walk house.yaml"
check 'a new name' rename 'Elm Row 15'
keys s
check 'that a link keeps the old text is said' wait_for 'Its other names (hard links) still hold the old text'
check 'and so it does' cmp linked.yaml original.yaml
keys q
wait_for '[0]'

# -- new, bad and impossible files

start "$walk new.yaml"
check 'a new survey begins with the premises' wait_for 'Name of the premises'
check 'no file before it is saved' [ ! -e new.yaml ]
keys Enter
keys -l 'Birch End'
keys Enter
check 'a name' wait_for 'Birch End'
keys s
check 'is saved' wait_for 'Saved'
keys q
check 'the end' wait_for '[0]'
run assess --rulebook "$overlay" new.yaml
check_status 'the new survey can be assessed' 0
printf 'tundish: 1\npremises:\n  ref: new\n  name: Birch End\n' >expected
check 'it has a format, a ref and what was answered' cmp new.yaml expected
"$tundish" rules --schema >tundish.schema.json
printf 'Birch End 2\ns\nq\n' >input
"$tundish" walk --plain --rulebook "$overlay" 'Birch End, 2.yaml' <input >out 2>err
printf '# yaml-language-server: $schema=tundish.schema.json\ntundish: 1\npremises:\n  ref: Birch_End_2\n  name: Birch End 2\n' >expected
check 'where a schema lies beside it, an editor is told' cmp 'Birch End, 2.yaml' expected

cp bad.yaml before.yaml
start "$walk bad.yaml"
check 'a bad file is refused' wait_for '[3]'
check 'with its place' grep -q '^bad.yaml:14:15: ' out
check 'and not touched' cmp bad.yaml before.yaml
start "$walk nowhere/new.yaml"
check 'no folder: said at once' wait_for '[4]'
check 'and why' grep -q 'nowhere/new.yaml' out
start "TERM=dumb $walk house.yaml"
check 'a terminal that cannot move its cursor gets lines' wait_for 'Premises sheet'
check 'and is told why' grep -q "can't move its cursor" out
keys q Enter
check 'which end like the screen' wait_for '[0]'

finish
