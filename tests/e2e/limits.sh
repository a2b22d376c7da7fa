#!/bin/sh
# No text makes the reader take more than 64 times its size beside what the rulebook takes, or hang: texts of 2 MiB of whatever costs most.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

MiB=2
plenty=$((200 * 1024)) # KiB: the program and the rulebook, and 64 times 2 MiB
# The address sanitizer takes more than that for itself: then only time is looked at.
if (ulimit -v "$plenty" && "$tundish" rules --counts >out) 2>err; then limit=$plenty; else limit=unlimited; fi
echo "limit: $limit KiB"

# Arguments: title, what comes first, what is said over and over; `&` in it is a number.
text() {
	case $3 in
	*'&'*) said() { seq 200000 | sed "s/.*/$1/"; } ;;
	*) said() { yes -- "$1" | head -n 2100000; } ;;
	esac
	case $3 in
	*'|') breaks='|\n' ;; # the lines of it are one
	*) breaks= ;;
	esac
	{
		printf "$2"
		said "$3" | tr -d "$breaks" | head -c $((MiB * 1024 * 1024))
	} >"$1.yaml"
	check "$1: there is as much" [ "$(wc -c <"$1.yaml")" -ge 2000000 ]
	for options in '' --chain; do
		(ulimit -v "$limit" && timeout 60 "$tundish" faults $options "$1.yaml") >out 2>err
		status=$?
		check "$1 $options: read, or refused with a place, not given up" [ "$status" -eq 0 -o "$status" -eq 3 ]
		check "$1 $options: and not for want of memory" sh -c '! grep -q "no memory" out err'
	done
}

text brackets 'tundish: 1\nx: ' '[|'
text empty_lists 'tundish: 1\nx: [' '[],|'
text ones 'tundish: 1\nx: [' '1,|'
text dashes 'tundish: 1\nx:\n' '- 1'
text keys 'tundish: 1\n' 'k&: 1'
text maps 'tundish: 1\nx: ' '{a: |'
text comments 'tundish: 1\n' '# c'
text blank_lines 'tundish: 1\n' ''
text one_scalar 'tundish: 1\nx: ' 'aaaaaaaa|'
text rooms 'tundish: 1\nrooms:\n' '  - {ref: r&, u: 1}'
text protections 'tundish: 1\nrooms: [ { ref: r, points: [ { ref: k, kind: kitchen_mixer, inlets: { cold: { protection: [ ' '{ref: p&, type: EB}, '
text amendments 'tundish: 1\namendments:\n' '  - {sequence: &, at: a, who: b, why: c, state: d, head: e}'

finish
