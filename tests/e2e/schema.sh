#!/bin/sh
# `rules --schema`: a general validator takes what the reader takes, and marks what the reader faults or notices.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

python=
for candidate in python3 /usr/bin/python3; do
	"$candidate" -c 'import jsonschema, yaml' 2>/dev/null && python=$candidate && break
done
[ -n "$python" ] || { echo 'no validator here: python3-jsonschema and python3-yaml'; exit 77; }

held() { # SCHEMA FILE...
	"$python" "$root/tests/e2e/schema_check.py" "$@" >out 2>err
	status=$?
}

run rules --schema
check_status 'the schema of the built-in book' 0
cp out schema.json
check 'it is draft-07' out_says '"$schema": "http://json-schema.org/draft-07/schema#"'
held schema.json "$root"/tests/amendments/signed.yaml
check_status 'a signed-off survey is fine' 0
held schema.json "$root"/surveys/*.yaml
check_status 'every demo is fine' 0
check 'all of them' [ "$(grep -c ': fine$' out)" -eq "$(ls "$root"/surveys/*.yaml | wc -l)" ]
check 'which are at least three' [ "$(wc -l <out)" -ge 3 ]

run rules --rulebook "$overlay" --schema
cp out schema.json
check 'the overlay is in it' out_says '"e2e_tank"'
check 'a hint helps' out_says '"description": "Gauge on a tap near the stop valve'
run rules --rulebook "$overlay" --schema wc
check_status 'not with a name' 2

# Both must agree on each: fine, or not (a fault or a notice). Arguments: title, what to change (sed), what it is. The validator
# looks at all of them at once, at the end.
number=0
same() {
	number=$((number + 1))
	sed "$2" house.yaml >"other$number.yaml"
	check "$1: something was changed" sh -c "! cmp -s house.yaml other$number.yaml"
	run faults --rulebook "$overlay" "other$number.yaml"
	check "$1: $3 to the reader" [ "$([ -s out ] && echo bad || echo fine)" = "$3" ]
	printf '%s\t%s\t%s\n' "$number" "$3" "$1" >>expected
}

same 'a comment' 's/^# kept/# was kept/' fine
same 'a kind there is not' 's/kind: e2e_tank/kind: e2e_tnak/' bad
same 'a type there is not' 's/type: E2E/type: E3E/' bad
same 'a choice out of its options' 's/use: house/use: hose/' bad
same 'one of several' 's/use: house/use: [house, flat]/' fine
same 'one of several, of which one is none' 's/use: house/use: [house, flt]/' bad
same 'yes by another word' 's/seen: yes/seen: true/' fine
same 'yes and no as a text' 's/e2e_dirty: yes/e2e_dirty: "yes"/' fine
same 'cannot tell' 's/e2e_dirty: yes/e2e_dirty: cannot_tell/' fine
same 'cannot tell where it makes no sense' 's/seen: yes/seen: cannot_tell/' bad
same 'an empty answer' 's/e2e_dirty: yes/e2e_dirty:/' fine
same 'an unknown key' 's/seen: yes/sene: yes/' bad
same 'a key of your own' 's/seen: yes/x-seen: yes/' fine
same 'an answer that is not asked' 's/e2e_dirty: yes/spout: fixed/' bad
same 'an answer that is of another type' 's/type: E2E/type: E2E, outlet_height_mm: 3/' bad
same 'a year' 's/seen: yes/installed: 2019/' fine
same 'a month' 's/seen: yes/installed: 2019-04/' fine
same 'a day' 's/seen: yes/installed: 2019-04-03/' fine
same 'before July 1999' 's/seen: yes/installed: before_july_1999/' fine
same 'no date' 's/seen: yes/installed: lately/' bad
same 'a number' 's/seen: yes/count: 3/' fine
same 'a number out of its range' 's/seen: yes/count: 0/' bad
same 'no number' 's/seen: yes/count: several/' bad
same 'an inlet that it has not' 's/inlets: { feed:/inlets: { fed:/' bad
same 'nothing fitted' 's/protection: \[[^]]*\]/protection: nothing/' fine
same 'a word for what is fitted that is none' 's/protection: \[[^]]*\]/protection: none/' bad
same 'the only inlet said on the point' 's/inlets: { feed: { fed_by: cold, \(protection: .* \] \)} }/fed_by: cold/' fine
same 'no ref' 's/{ ref: P1a, /{ /' bad
same 'a ref that is no word' 's/ref: P1$/ref: P 1/' bad
same 'several feeds' 's/fed_by: cold/fed_by: [cold, main]/' fine
same 'a decision' 's/seen: yes/undertaker_says: { category: 3, date: 2025-02-11 }/' fine
same 'a category that is none' 's/seen: yes/undertaker_says: { category: 6 }/' bad
same 'what was done' '0,/seen: yes/s//action_taken: [ { ref: A1, what: told, when: 2026-11-25 } ]/' fine
same 'a format from the future' 's/^tundish: 1/tundish: 2/' bad
same 'a section that is none' 's/^branches:/brunches:/' bad
same 'the supply' 's/^branches:/supply: { static_pressure_kpa: 320, stop_valve: works }\nbranches:/' fine
same 'a pressure that is none' 's/^branches:/supply: { static_pressure_kpa: 32000 }\nbranches:/' bad

held schema.json other*.yaml
check_status 'some are bad' 1
cp out looked_at
check 'all were looked at' [ "$(wc -l <looked_at)" -eq "$number" ]
while IFS="$(printf '\t')" read -r n expected title; do
	said=$(sed -n "s/^other$n\.yaml: //p" looked_at)
	check "$title: $expected to the schema (it says: $said)" \
		[ "$([ "$said" = fine ] && echo fine || echo bad)" = "$expected" ]
done <expected

finish
