#!/bin/sh
# `rules`: the list, and each name in it in full, with its sources.
. "$(dirname "$0")/lib.sh"

run rules --on 2026-11-25
check_status 'the list' 0
check 'the day' out_says ', for 2026-11-25'
check 'at most 80 columns' [ "$(awk 'length > 80' "$work/out" | wc -l)" -eq 0 ]
cp "$work/out" "$work/list"
sed -n '/^Kinds/,/^$/s/^  \([a-z_0-9][a-z_0-9]*\).*/\1/p' "$work/list" >"$work/kinds"
sed -n '/^Types/,/^$/s/^  \([A-Za-z_0-9][A-Za-z_0-9]*\).*/\1/p' "$work/list" >"$work/types"
check 'there are kinds' [ "$(wc -l <"$work/kinds")" -ge 12 ]
check 'there are types' [ "$(wc -l <"$work/types")" -ge 19 ]

while read -r name; do
	run rules "$name"
	check_status "$name" 0
	check "$name: its heading" out_says "Kind $name: "
	check "$name: its sources" grep -qE '^      source .*\((published|common practice|memory)\)' "$work/out"
	check "$name: its place in the book" grep -qE '^      in .*:[0-9]+$' "$work/out"
	# Titles count characters, not bytes.
	check "$name: at most 80 columns" [ "$(grep -cE '^.{81}' "$work/out")" -eq 0 ]
done <"$work/kinds"
while read -r name; do
	run rules "$name"
	check_status "$name" 0
	check "$name: its heading" out_says "Type $name: "
	check "$name: what it is good for" grep -qE '^      good for ' "$work/out"
	check "$name: its source" grep -qE '^      source .*\((published|common practice|memory)\)|^ +.*\((published|common practice|memory)\)$' "$work/out"
done <"$work/types"

run rules --rulebook "$root/tests/e2e/overlay.yaml" e2e_tank_dirty
check_status 'a row' 0
check 'when' out_says 'e2e_dirty is yes'
check 'its source' out_says 'Table of the test book, line 1 (published)'
check 'its place' grep -qE 'overlay\.yaml:15$' "$work/out"
run rules e2e_tank_dirty
check_status 'without the overlay there is none' 2

finish
