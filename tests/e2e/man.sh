#!/bin/sh
# The man page, the options, the commands and the keys of the walk say the same.
. "$(dirname "$0")/lib.sh"

page=$root/man/tundish.1
names() {
	grep -oE -- '--[a-z]+' | sort -u
}

run --help
sed -n 's/^  tundish \([a-z]*\) .*/\1/p' "$work/out" | sort -u >"$work/commands"
sed -n '/^\.Sh COMMANDS/,/^\.Sh OPTIONS/s/^\.It Cm \([a-z]*\).*/\1/p' "$page" | sort -u >"$work/in_page"
check 'the page has all commands and no other' cmp "$work/commands" "$work/in_page"

: >"$work/all"
for command in $(grep -v '^help$' "$work/commands"); do
	run "$command" --help
	sed -n 's/^  \(--[a-z-]*\).*/\1/p' "$work/out" | sort -u >"$work/options"
	cat "$work/options" >>"$work/all"
	# Of the synopsis: from the command to the next one.
	awk -v command="$command" '/^\.Nm$/ { on = 0 } /^\.Sh/ { on = 0 } $0 == ".Cm " command { on = 1 } on' "$page" |
		sed -n 's/^\.Op Fl -\([a-z-]*\).*/--\1/p' | sort -u >"$work/synopsis"
	grep -vxF -e --help -e --version "$work/options" >"$work/expected"
	check "the synopsis of $command has its options and no other" cmp "$work/expected" "$work/synopsis"
done
sort -u "$work/all" >"$work/options"
sed -n '/^\.Sh OPTIONS/,/^\.Sh VERDICTS/s/^\.It Fl -\([a-z-]*\).*/--\1/p' "$page" | sort -u >"$work/in_page"
check 'the page explains all options and no other' cmp "$work/options" "$work/in_page"

awk -f "$root/man/keys.awk" "$root/include/tundish/walk/requests.h" >"$work/keys"
check 'there are keys' [ "$(wc -l <"$work/keys")" -gt 20 ]
sed -n '/made by man\/keys.awk/,/^\.El/p' "$page" | sed '1,2d;$d' >"$work/in_page"
check 'the keys of the page are those of the table (if not: put there what man/keys.awk prints)' \
	diff "$work/keys" "$work/in_page"

finish
