#!/bin/sh
# A full disk, a folder that may not be written, a folder that is gone: the old file stays as it was, the walk goes on, what was answered is
# kept somewhere, and it says what to do.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1
HOME=$work/home
export HOME
unset XDG_STATE_HOME
mkdir home
states=$HOME/.local/state/tundish

rename() {
	wait_for 'How the house stands' && keys Enter && wait_for 'Name of the premises' && keys Enter && keys C-u &&
		keys -l "$1" && keys Enter && wait_for "$1"
}

walk="$tundish walk --rulebook $overlay"

# Arguments: what it is, a command before the walk opens, one after that, one that ends the trouble. The survey is disk/house.yaml.
trouble() {
	rm -rf home/house.yaml* "$states"
	cp house.yaml disk/house.yaml
	eval "$2"
	start "$walk disk/house.yaml"
	check "$1: the walk opens" wait_for 'How the house stands'
	eval "$3"
	check "$1: it can be answered all the same" rename 'Elm Row 7'
	check "$1: what was answered is kept" grep -rqs '=Elm Row 7$' "$states" disk/.house.yaml.journal
	keys s
	check "$1: not saving is said" wait_for 'Not saved'
	check "$1: and what to do" wait_for 's again writes ~/house.yaml'
	[ ! -e disk/house.yaml ] || check "$1: the file is as it was" cmp disk/house.yaml house.yaml
	check "$1: nothing half-made is left" [ -z "$(ls disk/.house.yaml.*.tmp 2>/dev/null)" ]
	keys s
	check "$1: it can be saved elsewhere" wait_for 'Saved as ~/house.yaml'
	check "$1: and is" grep -q '^  name: Elm Row 7$' home/house.yaml
	[ ! -e disk/house.yaml ] || check "$1: the file is still as it was" cmp disk/house.yaml house.yaml
	keys q
	check "$1: then it ends" wait_for '[0]'
	eval "$4"
	check "$1: no journal is left in the folder of states" [ -z "$(ls "$states" 2>/dev/null)" ]
	rm -rf disk/* disk/.house*
}

mkdir disk
if mount -t tmpfs -o size=64k tundish-test disk 2>/dev/null; then
	trap 'tmux -L "$server" kill-server 2>/dev/null; umount "$work/disk" 2>/dev/null; rm -rf "$work"' EXIT
	trouble 'a full disk' : 'dd if=/dev/zero of=disk/filler bs=1k 2>/dev/null' 'rm -f disk/filler'
	trouble 'a read-only disk' 'mount -o remount,ro disk' : 'mount -o remount,rw disk'
	in_tmux kill-server 2>/dev/null
	umount disk
else
	echo 'no file system can be mounted here: a full disk is tried as a limit on files, a read-only one by its mode'
	trouble 'a read-only folder' 'chmod 555 disk' : 'chmod 755 disk'
fi
trouble 'a folder that is gone' : 'rm -rf disk' 'mkdir disk'

# -- not even the home folder: it stays in memory, and that is said

cp house.yaml disk/house.yaml
rm -rf home/house.yaml*
start "ulimit -f 0; $walk disk/house.yaml"
check 'no room anywhere: the walk opens' wait_for 'How the house stands'
check 'it can be answered' rename 'Elm Row 8'
check 'that it is not kept is said' wait_for "can't be kept on disk"
keys s
check 'not saving is said' wait_for 'Not saved'
keys s
check 'and the second time' wait_for 'Not saved'
check 'the file is as it was' cmp disk/house.yaml house.yaml
keys q
wait_for 'Not saved yet'
keys d
check 'it can be left' wait_for '[0]'

finish
