#!/bin/sh
# `history --between`: two states of a survey point by point, and the exit status.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

between() {
	run history --on 2026-11-25 --rulebook "$overlay" "$@"
}
line_of() { # the JSON line of a point
	grep "\"ref\": \"$1\"" out
}
turned() {
	line_of "$1" | grep -qF "\"turn\": \"$2\""
}

between --between house.yaml house.yaml
check_status 'a file and itself' 0
check 'all as before' out_says '0 worse, 0 new, 0 better, 0 gone, 0 changed, 3 as before'

# P1 was short and is put right; P2 was protected and is dirty now; P3 leaves and P4, short, comes; the supply is told.
sed -e '/ref: P1$/,/answers/s/e2e_dirty: yes/e2e_dirty: no/' -e '/ref: P2$/,/answers/s/e2e_dirty: no/e2e_dirty: yes/' \
	-e 's/ref: P3$/ref: P4/; s/ref: P3a/ref: P4a/' -e 's/^branches:/supply: { static_pressure_kpa: 320 }\nbranches:/' \
	house.yaml >later.yaml
printf '        answers: { e2e_dirty: yes }\n' >>later.yaml
between --format ndjson --between house.yaml later.yaml
check_status 'something is worse' 1
check 'a line a point, and one for what is of no point' [ "$(wc -l <out)" -eq 5 ]
check 'P1 is better' turned P1 better
check 'P2 is worse' turned P2 worse
check 'P3 is gone' turned P3 gone
check 'P4 is new' turned P4 new
check 'the answer that did it' sh -c 'grep "\"ref\": \"P2\"" out | grep -qF "[{\"where\": \"P2/answers/e2e_dirty\", \"before\": \"no\", \"after\": \"yes\"}]"'
check 'what P1 was and is' sh -c 'grep "\"ref\": \"P1\"" out | grep -q "\"before\": {\"verdict\": \"short\".*\"on_paper\": {\"least\": 2, \"most\": 2}.*\"after\": {\"verdict\": \"protected\""'
check 'what is gone has no after' sh -c 'grep "\"ref\": \"P3\"" out | grep -q "\"before\": {.*\"after\": null"'
check 'the supply is of no point' sh -c 'grep "\"turn\": \"elsewhere\"" out | grep -qF "supply/static_pressure_kpa"'

between --between house.yaml later.yaml
check_status 'the same as a table' 1
check 'the counts' out_says 'Points: 1 worse, 1 new, 1 better, 1 gone, 0 changed, 0 as before'
check 'the worst comes first' [ "$(grep -nx Worse out | cut -d: -f1)" -lt "$(grep -nx Better out | cut -d: -f1)" ]
check 'which point it is' grep -qx '  P2         =Kitchen, back, Cattle trough' out
check 'what it was' out_says 'protected; was short (2 on paper, 2 in fact, '
check 'the answer in words' out_says 'P2/answers/e2e_dirty: yes, was no'
check 'the other answers' out_says 'supply/static_pressure_kpa: 320, was not answered'
check 'no line is too long' [ "$(awk 'length > 80' out | wc -l)" -eq 0 ]

# The other way round nothing is worse but P1.
between --format csv --between later.yaml house.yaml
check_status 'the other way round' 1
check 'a header and a record a point' [ "$(wc -l <out)" -eq 5 ]
check 'P1 in CSV' grep -q '^worse,"'\''=Kitchen, back",P1,e2e_tank,protected,none,0,0,0,0,short,.*,2,2,2,2,1.$' out
check 'P3 in CSV, which is new' grep -q '^new,.*,P3,e2e_tank,,,,,,,undecided,' out

# Better alone is nothing to look at; an undecided newcomer neither.
sed -e '/ref: P1$/,/answers/s/e2e_dirty: yes/e2e_dirty: no/' house.yaml >better.yaml
between --between house.yaml better.yaml
check_status 'better alone' 0
sed '/ref: P3$/,$d' house.yaml | sed '$d' >two.yaml
between --between two.yaml house.yaml
check_status 'an undecided newcomer' 0
check 'is new' out_says '1 new'

# A note moves no figure.
sed '/ref: P2$/a\        note: by the door' house.yaml >note.yaml
between --between house.yaml note.yaml
check_status 'a note' 0
check 'is a change that leaves all as it was' out_says '1 changed, 2 as before'

# Into another room, with one answer changed: the move and that answer, and nothing that it had before.
sed -e '/ref: P2$/,/answers/d' house.yaml >moved.yaml
cat >>moved.yaml <<'Y'
  - ref: yard
    part: flat
    points:
      - ref: P2
        kind: e2e_tank
        seen: part
        inlets: { feed: { fed_by: cold, protection: [ { ref: P2a, type: E2E } ] } }
        answers: { e2e_dirty: no }
Y
between --format ndjson --between house.yaml moved.yaml
check 'a move is two changes and the answer a third' [ "$(line_of P2 | grep -o '"where"' | wc -l)" -eq 3 ]
check 'the answer' sh -c 'grep "\"ref\": \"P2\"" out | grep -qF "P2/seen"'

cp "$root/tests/amendments/signed.yaml" .
run history signed.yaml
check_status 'a story' 0
sed -n '/^```text$/,/^```$/{/^```/d;p;}' "$root/docs/history.md" >shown
check 'it is the one of the docs' diff shown out
run history --format csv signed.yaml
check 'a header and a record a change, and one for the signing off' [ "$(wc -l <out)" -eq 5 ]
check 'a change in CSV' grep -q '^2,2026-11-26T10:00:00Z,B. Checker,"no: ""it"" leaks",no,K1/answers/spout,fixed,pull_out.$' out
run history --format ndjson signed.yaml
check 'an object an amendment' [ "$(grep -c '^{"file": "signed.yaml", "sequence": [123], .*"head": "[0-9a-f]*"}$' out)" -eq 3 ]
check 'a change in it' grep -qF '{"where": "K1/why_not_seen", "before": null, "after": "hose: \"kinked\""}' out
sed 's/who: B. Checker/who: C. Checker/' signed.yaml >broken.yaml
run history broken.yaml
check_status 'a broken chain' 3
check 'ends before the break' [ "$(grep -c '^  [0-9]' out)" -eq 1 ]
check 'and says so' out_says 'Here the chain breaks'
check 'with the place' err_says 'broken.yaml:38:3: amendment 2'
sed 's/fed_by: cold/fed_by: main/' signed.yaml >outside.yaml
run history outside.yaml
check_status 'changed outside' 3
check 'is the end of the story' out_says 'Then it was changed outside tundish'
between house.yaml
check_status 'not signed off' 0
check 'has no story' out_says 'Not signed off: there are no amendments.'
between --between bad.yaml house.yaml
check_status 'a bad one' 3
between --between none.yaml house.yaml
check_status 'none there' 4
"$tundish" history --rulebook "$overlay" --between - house.yaml <house.yaml >out 2>err
status=$?
check_status 'standard input' 0

finish
