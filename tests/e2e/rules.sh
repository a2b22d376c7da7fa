#!/bin/sh
# `rules`: the list, and each name in it in full, with its sources.
. "$(dirname "$0")/lib.sh"

# A source that goes over a line ends on the next.
has_source() {
	tr '\n' ' ' <"$work/out" | tr -s ' ' >"$work/flat"
	grep -qE ' source [^(]+(\([^)]*\)[^(]+)*\((published|common practice|MEMORY, to be checked)\)' "$work/flat"
}

run rules --on 2026-11-25
check_status 'the list' 0
check 'the day' out_says ', for 2026-11-25'
check 'at most 80 columns' [ "$(awk 'length > 80' "$work/out" | wc -l)" -eq 0 ]
check 'what can be invented' grep -q '^  terraced_house  *Terraced house' "$work/out"
cp "$work/out" "$work/list"
sed -n '/^Kinds/,/^$/s/^  \([a-z_0-9][a-z_0-9]*\).*/\1/p' "$work/list" >"$work/kinds"
sed -n '/^Types/,/^$/s/^  \([A-Za-z_0-9][A-Za-z_0-9]*\).*/\1/p' "$work/list" >"$work/types"
check 'there are kinds' [ "$(wc -l <"$work/kinds")" -ge 12 ]
check 'there are types' [ "$(wc -l <"$work/types")" -ge 19 ]

# Every kind and type is looked at by the suite rules_builtin; here some of them, from outside.
awk 'NR % 12 == 1' "$work/kinds" >"$work/some_kinds"
awk 'NR % 6 == 1' "$work/types" >"$work/some_types"
while read -r name; do
	run rules "$name"
	check_status "$name" 0
	check "$name: its heading" out_says "Kind $name: "
	check "$name: its sources" has_source
	check "$name: its place in the book" grep -qE '^      in .*:[0-9]+$' "$work/out"
	# Titles count characters, not bytes.
	check "$name: at most 80 columns" [ "$(grep -cE '^.{81}' "$work/out")" -eq 0 ]
done <"$work/some_kinds"
while read -r name; do
	run rules "$name"
	check_status "$name" 0
	check "$name: its heading" out_says "Type $name: "
	check "$name: what it is good for" grep -qE '^      good for ' "$work/out"
	check "$name: its source" has_source
	check "$name: what it may serve" grep -qE '^      at times  [a-z_0-9]+' "$work/out"
done <"$work/some_types"

run rules --rulebook "$root/tests/e2e/overlay.yaml" e2e_tank_dirty
check_status 'a row' 0
check 'when' out_says 'e2e_dirty is yes'
check 'its source' out_says 'Table of the test book, line 1 (published)'
check 'its place' grep -qE 'overlay\.yaml:15$' "$work/out"
run rules e2e_tank_dirty
check_status 'without the overlay there is none' 2

# What would do: with the overlay's own type, so that it does not move with the trade.
overlay=$root/tests/e2e/overlay.yaml
run rules --rulebook "$overlay" --for 3 --mechanism back_siphonage
check_status 'what would do' 0
check 'a type that is good for it' grep -qE '^  E2E +Test check$' "$work/out"
check 'what is of memory is seen at a glance' out_says 'Table of the test book, line 2 (MEMORY, to be checked)'
check 'types that would not do are left out' [ "$(grep -c '^      good for  2 against both' "$work/out")" -eq 0 ]
run rules --rulebook "$overlay" --for 4
check_status 'what would do by any mechanism' 0
check 'three lists' [ "$(grep -c '^Good for at least fluid category 4 against' "$work/out")" -eq 3 ]
check 'one step more and it is not there' [ "$(grep -c '^  E2E ' "$work/out")" -eq 0 ]
for category in 2 3 4 5; do
	run rules --for "$category"
	check "--for $category: at most 80 columns" [ "$(grep -cE '^.{81}' "$work/out")" -eq 0 ]
	check "--for $category: each with its limits and its source" \
		[ "$(grep -c '^      limits ' "$work/out")" -eq "$(grep -c '^      good for ' "$work/out")" ]
done

run rules --rulebook "$overlay" --standing memory
check_status 'what is of memory' 0
check 'by its source' grep -qE '^Table of the test book, line 2$' "$work/out"
check 'what it says' grep -qE '^  E2E +type: Test check: good for 3 against' "$work/out"
check 'nothing that is published' [ "$(grep -c e2e_tank_dirty "$work/out")" -eq 0 ]
run rules --rulebook "$overlay" --standing published
check 'a row that is published' grep -qE '^  e2e_tank_dirty +kind e2e_tank: ' "$work/out"
run rules --rulebook "$overlay" --standing common_practice
check 'a row of the trade' grep -qE '^  e2e_tank_clean +kind e2e_tank: ' "$work/out"

run rules --counts
check_status 'counts' 0
cp "$work/out" "$work/before"
run rules --rulebook "$overlay" --counts
# A kind, a type from memory, a question, a published row and one of the trade more.
awk '{ gsub(/[^0-9 ]/, ""); print }' "$work/before" >"$work/figures"
awk '{ gsub(/[^0-9 ]/, ""); print }' "$work/out" | paste -d ' ' "$work/figures" - |
	awk '{ for (i = 1; i <= NF / 2; i++) printf "%d ", $(i + NF / 2) - $i; print "" }' >"$work/more"
printf '1 \n1 0 0 1 \n1 \n2 1 1 0 \n' >"$work/expected"
check 'the overlay is counted' diff "$work/expected" "$work/more"

run rules signed_off
check 'what a copy for training keeps is said' out_says 'share     left out of a copy for training'
run rules stop_valve
check 'and what it does keep' out_says 'share     kept in a copy for training'

finish
