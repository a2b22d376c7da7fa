#!/bin/sh
# The walk-through of docs/rulebook.md: its steps make a rulebook, and each command prints what is shown.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

# The blocks of the section, numbered: 01.yaml, 02.console ... A survey begins with its format.
sed -n '/^## A kind, step by step/,$p' "$root/docs/rulebook.md" |
	awk '/^```[a-z]/ { name = sprintf("%02d.%s", ++count, substr($0, 4)); next } /^```$/ { name = ""; next } name { print > name }'
check 'there are steps' [ "$(find . -name '[0-9][0-9].yaml' | wc -l)" -ge 4 ]
check 'and commands' [ "$(find . -name '[0-9][0-9].console' | wc -l)" -ge 5 ]

# Runs the commands of one block, and prints them with what they say. The digest changes whenever the rulebook does.
replay() {
	sed -n 's/^\$ //p' "$1" | while read -r line; do
		printf '$ %s\n' "$line"
		# shellcheck disable=SC2086
		case $line in
		tundish\ *) eval "'$tundish' ${line#tundish }" 2>&1 </dev/null | sed 's/by rulebook [0-9a-f]*/by rulebook 3f9c0a1e/' ;;
		sed\ *) eval "$line" ;;
		*) printf 'a command that the test does not know\n' ;;
		esac
	done
}

for block in [0-9][0-9].*; do
	case $block in
	*.yaml)
		if [ "$(head -n 1 "$block")" = 'tundish: 1' ]; then
			cp "$block" art_room.yaml
		else
			cat "$block" >>pottery.yaml
		fi
		;;
	*.console)
		replay "$block" >printed
		check "block $block is what is printed" diff "$block" printed
		;;
	esac
done

finish
