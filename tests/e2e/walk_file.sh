#!/bin/sh
# The file under a walk: what was answered is saved and nothing else changes; what another wrote is never lost; nor is work when
# the terminal goes away.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1
status=0
: >err

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

# -- what was not saved

cp original.yaml house.yaml
start "$walk house.yaml"
check 'a new name' rename 'Elm Row 9'
keys q
check 'leaving asks' wait_for 'Not saved yet'
keys d
check 'discarding ends it' wait_for '[0]'
check 'the file is as it was' cmp house.yaml original.yaml
check 'and nothing was kept' [ ! -e house.yaml.unsaved ]

for signal in HUP TERM; do
	start "echo \$\$ >pid; exec $walk house.yaml"
	check "a new name before $signal" rename 'Elm Row 10'
	kill -"$signal" "$(cat pid)"
	tries=0
	while [ ! -e house.yaml.unsaved ] && [ "$tries" -lt 100 ]; do
		tries=$((tries + 1))
		sleep 0.1
	done
	check "$signal keeps the work" grep -q '^  name: Elm Row 10$' house.yaml.unsaved
	check "$signal leaves the file" cmp house.yaml original.yaml
	mv house.yaml.unsaved "after_$signal.yaml"
done
mv after_TERM.yaml house.yaml.unsaved
start "$walk house.yaml"
check 'the next walk says what is there' wait_for 'house.yaml.unsaved'
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
check 'it has a format' grep -q '^tundish: 1$' new.yaml

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
