#!/bin/sh
# docs/walk.md shows the walk as it is: the keys named in its comments are pressed in a real terminal, and each block below one is
# what is then on the screen. UPDATE_GOLDEN=1 writes the page anew: read the difference before you keep it.
#
#     <!-- size: 80x24 -->    of the terminal from here on
#     <!-- keys: Enter "Elm_Row_7" -->    keys as tmux names them; "in quotes" is typed, _ for a blank
#     <!-- plain: FILE -->    the lines behind `> ` in the block are typed to the walk as lines
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1
unset ACCESSIBLE
status=0
: >err

page=$root/docs/walk.md
walk="$tundish walk --on 2026-11-25"

# The screen when it has come to rest: the same in two looks, with the cursor of a walk that waits.
settled() {
	screen
	tries=0
	while [ "$tries" -lt 100 ]; do
		cp out before
		sleep 0.15
		screen
		cmp -s out before && return 0
		tries=$((tries + 1))
	done
}

press() {
	# shellcheck disable=SC2086
	set -- $1
	for key; do
		case $key in
		\"*\")
			text=${key#\"}
			keys -l "$(printf '%s' "${text%\"}" | tr _ ' ')"
			;;
		*) keys "$key" ;;
		esac
		# keys that come together are drawn as one, and what was drawn between says how far a form is scrolled
		sleep 0.1
	done
	settled
}

resize() {
	in_tmux resize-window -x "${1%x*}" -y "${1#*x}"
	settled
}

# Arguments: the lines of the block. What the walk makes of them, in out.
type_lines() {
	# shellcheck disable=SC2086
	sed -n 's/^> //p; s/^>$//p' block | $walk --plain "$1" >out 2>err
}

start "$walk house_by_keys.yaml"
wait_for 'Premises sheet'
command='' shots=0
: >page.md
while IFS= read -r line; do
	case $line in
	'<!-- size: '*)
		size=${line#<!-- size: }
		resize "${size% -->}"
		printf '%s\n' "$line" >>page.md
		;;
	'<!-- keys: '* | '<!-- plain: '*)
		command=$line
		printf '%s\n' "$line" >>page.md
		;;
	'```')
		printf '```\n' >>page.md
		: >block
		while IFS= read -r line && [ "$line" != '```' ]; do
			printf '%s\n' "$line" >>block
		done
		case $command in
		'<!-- keys: '*)
			argument=${command#<!-- keys: }
			press "${argument% -->}"
			sed 's/ *$//' out >block
			;;
		'<!-- plain: '*)
			argument=${command#<!-- plain: }
			type_lines "${argument% -->}"
			sed 's/ *$//' out >block
			;;
		esac
		command='' shots=$((shots + 1))
		cat block >>page.md
		printf '```\n' >>page.md
		;;
	*) printf '%s\n' "$line" >>page.md ;;
	esac
done <"$page"

keys q
keys d
check 'the walk can be left from there' wait_for '[0]'
check 'screens were shown' [ "$shots" -ge 10 ]
if [ "${UPDATE_GOLDEN:-}" = 1 ]; then
	cp page.md "$page"
fi
checks=$((checks + 1))
diff "$page" page.md >out || fail 'docs/walk.md shows what is seen (if it should: UPDATE_GOLDEN=1 writes it anew)'

finish
