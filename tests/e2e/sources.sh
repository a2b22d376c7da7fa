#!/bin/sh
# docs/sources.md is what its script makes of the rulebook. UPDATE_GOLDEN=1 writes it anew.
. "$(dirname "$0")/lib.sh"

for standing in published memory common_practice; do
	run rules --on 2026-11-25 --standing "$standing"
	check_status "$standing" 0
	cat "$work/out" >>"$work/all"
	echo >>"$work/all"
done
check 'the script reads every row' awk -f "$root/docs/sources.awk" "$work/all" >"$work/made"
if [ "${UPDATE_GOLDEN:-}" = 1 ]; then
	cp "$work/made" "$root/docs/sources.md"
fi
check 'there are documents' [ "$(grep -c '^| .* published\|\*\*memory\*\*' "$work/made")" -ge 20 ]
check 'docs/sources.md is up to date' diff "$root/docs/sources.md" "$work/made"

finish
