#!/bin/sh
# `faults --chain`: what the amendments of a signed-off survey show, and the exit status.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1
cp "$root/tests/amendments/signed.yaml" .
head=$(sed -n 's/^    head: //p' signed.yaml | tail -1)

run faults --chain signed.yaml
check_status 'a sound chain' 0
check 'how many, and the head' grep -qx "signed.yaml: amendments 3, the chain holds; head $head" out
check 'what it can not show' out_says "What a chain can't show"
check 'no line is too long but that of the head' [ "$(grep -v ' head ' out | awk 'length > 80' | wc -l)" -eq 0 ]
run faults signed.yaml
check_status 'without --chain' 0
check 'it is not looked at' out_is_empty

python=
for candidate in python3 /usr/bin/python3; do
	"$candidate" -c 'import yaml' 2>/dev/null && python=$candidate && break
done
[ -n "$python" ] || { echo 'no YAML reader here: python3-yaml'; exit 77; }
"$python" "$root/tests/e2e/chain_check.py" signed.yaml >out 2>err
status=$?
check_status 'another hand, from the docs' 0
check 'comes to the same head' grep -qx "$head" out

sed 's/fed_by: cold/fed_by: main/' signed.yaml >outside.yaml
run faults --chain outside.yaml
check_status 'changed outside' 3
check 'where' grep -qE '^outside\.yaml:12:3: `rooms/kitchen` was changed since amendment 3, and no amendment says so' out
check 'that the links hold' out_says 'amendments 3, each link holds, but it was changed outside tundish'
sed 's/who: B. Checker/who: C. Checker/' signed.yaml >broken.yaml
run faults --chain broken.yaml
check_status 'a broken link' 3
check 'which, and where' grep -qE '^broken\.yaml:38:3: amendment 2 is where the chain breaks' out
check 'up to where it holds' out_says 'holds up to amendment 1 and breaks there'
sed '/^amendments:/,$d' signed.yaml >bare.yaml
run faults --chain bare.yaml
check_status 'all of them gone' 3
check 'says so' out_says 'signed off, and there are no amendments'
sed '/signed_off/d' bare.yaml >draft.yaml
run faults --chain draft.yaml
check_status 'not signed off yet' 0
check 'that there are none' grep -qx 'draft.yaml: not signed off, no amendments' out
check 'and no words on chains' [ "$(wc -l <out)" -eq 1 ]

# The tail: the last amendment and what it changed are taken away.
sed -e '/^  - sequence: 3/,$d' -e 's/seen: part/seen: yes/' -e '/why_not_seen/d' signed.yaml >cut.yaml
run faults --chain cut.yaml
check_status 'a chain cut short by one who can write is sound' 0
run faults --chain --expect-head "$head" cut.yaml
check_status 'but not to one who kept its head' 3
check 'says what it could be' grep -qE '^cut\.yaml: the head is [0-9a-f]{64}, and not the one expected' out
run faults --chain --expect-head "$head" signed.yaml
check_status 'the head expected' 0
run faults --chain --expect-head "$(printf '%.16s' "$head")" signed.yaml
check_status 'its first digits' 0
run faults --chain --expect-head 0123456789abcdef signed.yaml
check_status 'other digits' 3
run faults --chain --expect-head abc signed.yaml
check_status 'too few digits' 2
run faults --expect-head "$head" signed.yaml
check_status 'a head without --chain' 2
run faults --chain --expect-head "$head" signed.yaml cut.yaml
check_status 'a head for two' 2
run faults --chain signed.yaml broken.yaml none.yaml
check_status 'several' 4
check 'each has its line' [ "$(grep -cE '^(signed|broken)\.yaml: ' out)" -eq 2 ]

finish
