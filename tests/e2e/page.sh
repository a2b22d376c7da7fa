# Pages of docs/ that show the walk as it is: the keys named in their comments are pressed in a real terminal, and each block below one
# is what is then on the screen. UPDATE_GOLDEN=1 writes the page anew: read the difference before you keep it. Read after terminal.sh.
#
#     <!-- size: 80x24 -->    of the terminal from here on
#     <!-- keys: Enter "Elm_Row_7" -->    keys as tmux names them; "in quotes" is typed, _ for a blank
#     <!-- plain: FILE -->    the lines behind `> ` in the block are typed to the walk as lines
#     <!-- run: COMMAND -->   is run in the terminal in place of what runs there
# shellcheck shell=sh

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

# The block's lines go to `plain FILE`, which the script has to define; what comes of them into out.
type_lines() {
	sed -n 's/^> //p; s/^>$//p' block | plain "$1" >out 2>err
}

# `in_place COMMAND`, which the script has to define where there is a `run:`, runs it in the terminal.
do_command() {
	argument=${1#<!-- *: }
	argument=${argument% -->}
	case $1 in
	'<!-- keys: '*) press "$argument" ;;
	'<!-- plain: '*) type_lines "$argument" ;;
	*) return ;;
	esac
	sed 's/ *$//' out >block
}

# Argument: the page; how many blocks there are at least.
hold_page() {
	command='' shots=0
	: >page.md
	while IFS= read -r line; do
		case $line in
		'<!-- size: '*)
			size=${line#<!-- size: }
			size=${size% -->}
			resize "$size"
			printf '%s\n' "$line" >>page.md
			;;
		'<!-- run: '*)
			line=${line#<!-- run: }
			in_place "${line% -->}"
			printf '<!-- run: %s\n' "$line" >>page.md
			command='<!-- keys:  -->'
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
			do_command "$command"
			command='' shots=$((shots + 1))
			cat block >>page.md
			printf '```\n' >>page.md
			;;
		*) printf '%s\n' "$line" >>page.md ;;
		esac
	done <"$1"
	check 'screens were shown' [ "$shots" -ge "$2" ]
	if [ "${UPDATE_GOLDEN:-}" = 1 ]; then
		cp page.md "$1"
	fi
	checks=$((checks + 1))
	diff "$1" page.md >out || fail "$1 shows what is seen (if it should: UPDATE_GOLDEN=1 writes it anew)"
}
