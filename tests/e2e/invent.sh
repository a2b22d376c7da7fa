#!/bin/sh
# `invent`: a survey on standard output, the same for the same seed; every command takes it; what is wrong is said.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

# A book of its own over the built-in one, so that the sites do not change with it.
cat >mine.yaml <<'Y'
kinds:
  - id: e2e_barrel
    name: Barrel
    where: Shed
    inlets: [ { id: feed, name: feed } ]
    questions: [ { id: e2e_filled, form: choice, label: Filled, options: [ { id: hose, label: hose }, { id: spout, label: spout } ] } ]
    fluids:
      - id: glaze
        name: glaze
        rows:
          - { id: e2e_barrel_hose, when: { e2e_filled: hose, part.use: house }, category: 4, by: [back_siphonage], because: Down in., source: no source, standing: common practice }
          - { id: e2e_barrel_shop, when: { e2e_filled: hose, part.use: shop }, category: 4, by: [back_siphonage], because: Down in., source: no source, standing: common practice }
        otherwise: { id: e2e_barrel_clear, category: none, because: Open air., source: no source, standing: common practice }
invent:
  sites:
    - { id: e2e_pottery, name: Pottery, uses: [house] }
  rooms:
    - { id: e2e_shed, name: Shed, in: { house: 1000 }, always: [house], has: [e2e_barrel], holds: { e2e_barrel: 1 } }
  often:
    - { of: e2e_barrel, answers: { e2e_filled: { spout: 1 } } }
Y
run faults mine.yaml
check_status 'weights are read' 0
check 'and nothing is wrong with them' err_says 'faults 0, notices 0'

run invent --seed 42 --level 3 --on 2026-11-25
check_status 'a house' 0
check 'nothing else is said' err_is_empty
cp out one.yaml
run invent --seed 42 --level 3 --on 2026-11-25
check 'the same again' cmp out one.yaml
LC_ALL=C TZ=Pacific/Auckland run invent --seed=42 --level=3 --on=2026-11-25
check 'anywhere' cmp out one.yaml
# what its second line says makes it again
again=$(sed -n '2s/^# tundish //p' one.yaml)
# shellcheck disable=SC2086
run $again
check 'its own words make it again' cmp out one.yaml
run invent --seed 43 --level 3 --on 2026-11-25
check 'another seed, another house' [ "$(cksum <out)" != "$(cksum <one.yaml)" ]
run invent --seed 18446744073709551615 --on 2026-11-25
check_status 'the greatest seed' 0

for level in 1 2 3 4; do
	run invent --seed 7 --level $level
	check_status "level $level" 0
	cp out house.yaml
	run faults house.yaml
	check "level $level: neither fault nor notice" err_says 'files 1, faults 0, notices 0'
done
run assess house.yaml
check 'it can be assessed' [ "$status" -le 1 ]
"$tundish" invent --seed 7 | "$tundish" assess --format csv - >out 2>err
check 'by way of a pipe' err_is_empty
check 'its verdicts are decided at level 1' sh -c '! grep -q "undecided\|not_seen" out'
run redact house.yaml
check_status 'a copy of it' 0

run invent --seed 1 --rulebook mine.yaml --premises e2e_pottery --on 2026-11-25
check_status 'a site of my own' 0
check 'is named' out_says '# An invented house (e2e_pottery)'
check 'has the room that is always there' out_says '    name: Shed'
check 'with what is in it' out_says 'kind: e2e_barrel'
check 'answered by my weights' out_says 'e2e_filled: spout'

run invent --seed 1 --rulebook mine.yaml --premises e2e_pottery --with e2e_barrel_hose,ED --with BA
check_status 'what is asked for' 0
check 'a row' out_says 'e2e_filled: hose'
check 'a type' out_says 'type: ED'
check 'another one' out_says 'type: BA'
check 'nothing was left out' err_is_empty
check 'it says how' grep -q '^# tundish invent --seed 1 --level 1 --premises e2e_pottery --with e2e_barrel_hose,ED,BA --on ' out

run invent --seed 1 --rulebook mine.yaml --premises e2e_pottery --with e2e_barrel_hose,e2e_barrel_shop
check_status 'what does not go together' 0
check 'is named' err_says 'tundish invent: left out, as it does not go with the rest: e2e_barrel_shop'

run invent --seed 5 --rooms 12 --points 40 --premises detached_house
check 'so many rooms' [ "$(grep -c '^  - ref: [a-z_0-9]*$' out)" -eq 12 ]
check 'so many outlets' [ "$(grep -c '^      - ref: ' out)" -eq 40 ]

wrong() {
	title=$1 message=$2
	shift 2
	run invent "$@"
	check_status "$title" 2
	check "$title: says so" err_says "$message"
	check "$title: nothing is written" out_is_empty
}
wrong 'no seed' '--seed is missing'
wrong 'a seed in words' '--seed x is not a whole number from 0 to 18446744073709551615' --seed x
wrong 'a seed below nothing' '--seed -1 is not a whole number' --seed -1
wrong 'a seed too great' '--seed 18446744073709551616 is not' --seed 18446744073709551616
wrong 'a level too high' '--level 5 is not a whole number from 1 to 4' --seed 1 --level 5
wrong 'no rooms' '--rooms 0 is not a whole number from 1 to 200' --seed 1 --rooms 0
wrong 'too many outlets' '--points 2001 is not a whole number from 1 to 2000' --seed 1 --points 2001
wrong 'no such site' 'e2e_potery is no site of the rulebook; did you mean e2e_pottery?' --seed 1 --rulebook mine.yaml --premises e2e_potery
wrong 'no such thing' 'outside_tp is no kind, type or row of the rulebook; did you mean outside_tap?' --seed 1 --with outside_tp
wrong 'an operand' 'x is one too many' --seed 1 x
wrong 'an option of another command' '--format is not an option here' --seed 1 --format csv

# Who asks in another way need not know of weights.
cat >anew.yaml <<'Y'
questions:
  - { id: hot, scope: premises, form: yes_no, label: "Is there hot water?" }
  - { id: stop_valve_shut, scope: branch, form: text, label: What does it do }
Y
run faults anew.yaml
check_status 'a question of the sheet is written anew' 0
check 'without a word' err_says 'faults 0, notices 0'
run invent --seed 3 --rulebook anew.yaml
check_status 'and a house is made of it' 0

printf 'invent: { sites: [ { id: s, name: S, uses: [hose] } ] }\n' >bad.yaml
run invent --seed 1 --rulebook bad.yaml
check_status 'a bad rulebook' 3
check 'its place' err_says 'bad.yaml:1:45: `hose` is no answer to `use`: did you mean `house`?'
"$tundish" invent --seed 1 >/dev/full 2>err
status=$?
check_status 'a full disk' 4

finish
