#!/bin/sh
# `redact`: what is kept is listed; nothing else gets out.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

cat >mine.yaml <<'Y'
questions:
  - { id: glaze_maker, scope: room, form: choice, label: "Whose?", options: [ { id: secret_maker, label: a }, { id: other, label: b } ] }
kinds:
  - id: glaze_barrel
    name: Glaze barrel
    where: Pottery
    draw_off: no
    inlets: [ { id: feed, name: feed } ]
    questions:
      - { id: colour, form: choice, label: "Which?", options: [ { id: red, label: red }, { id: blue, label: blue } ] }
      - { id: odd_colour, form: choice, share: no, label: "Which?", options: [ { id: secret_red, label: r }, { id: blue, label: b } ] }
      - { id: story, form: text, label: Story }
      - { id: depth_mm, form: number, unit: mm, least: 0, most: 900, label: Depth }
    fluids:
      - id: glaze
        name: glaze
        otherwise: { id: glaze_barrel_any, category: 3, by: [back_siphonage], because: It is so., source: no source, standing: common practice }
Y
cat >house.yaml <<'Y'
# SECRET comment
tundish: 1
premises:
  ref: SECRET_ref
  name: SECRET name
  nation: wales
  visited: 2026-11-25
  signed_off: 2026-11-26
  surveyor: SECRET surveyor
  x-phone: SECRET x
  parts: [ { ref: flat, use: house, occupier: SECRET occupier, seen: part, why_not_seen: SECRET why } ]
supply: { static_pressure_kpa: 320, water_company: SECRET company, unknown: SECRET unknown }
branches:
  - { ref: cold, from: main, name: SECRET branch }
rooms:
  - ref: kitchen
    name: SECRET room   # SECRET room comment
    part: flat
    glaze_maker: secret_maker
    points:
      - ref: P1
        kind: glaze_barrel
        name: SECRET point
        seen: yes
        installed: before_july_1999
        note: |
          SECRET
          note
        inlets: { feed: { fed_by: [cold, main], note: SECRET feed, protection: [ { ref: P1a, type: EB, fitted: 2019-04-03, mark: cannot_tell, note: SECRET a, tests: [ { ref: T1, date: 2024-05, by: SECRET by, result: passed } ] } ] } }
        answers: { colour: red, odd_colour: secret_red, story: SECRET story, depth_mm: 120, outdated: SECRET answer }
        undertaker_says: { category: 3, reference: SECRET/1, date: 2025-02-11, conditions: SECRET conditions }
        action_taken: [ { ref: A1, what: told, when: 2026-11-25, told: SECRET told } ]
      - ref: P2
        kind: glaze_barrel
        inlets: { feed: { protection: cannot_tell } }
amendments: [ { who: SECRET who } ]
Y
cp house.yaml before.yaml
run redact --rulebook mine.yaml house.yaml
check_status 'a house' 0
check 'nothing that was not listed' [ "$(grep -ci secret out)" -eq 0 ]
check 'nor told while counting' [ "$(grep -ci secret err)" -eq 0 ]
check 'the file is as it was' cmp house.yaml before.yaml
cat >expected <<'Y'
# A copy for training, made by tundish: refs, kinds, types, answers and conditions; dates as years. All else was left out.
tundish: 1
premises:
  nation: wales
  visited: 2026
  parts:
    - { ref: flat, use: house, seen: part }
supply:
  static_pressure_kpa: 320
branches:
  - { ref: cold, from: main }
rooms:
  - ref: kitchen
    part: flat
    points:
      - ref: P1
        kind: glaze_barrel
        seen: yes
        installed: before_july_1999
        inlets:
          feed: { fed_by: [cold, main], protection: [ { ref: P1a, type: EB, fitted: 2019, mark: cannot_tell, tests: [ { ref: T1, date: 2024, result: passed } ] } ] }
        answers: { colour: red, depth_mm: 120 }
        undertaker_says: { category: 3, date: 2025 }
        action_taken: [ { ref: A1, what: told, when: 2026 } ]
      - ref: P2
        kind: glaze_barrel
        inlets:
          feed: { protection: cannot_tell }
Y
check 'all that was' diff expected out
check 'dates cut' err_says 'dates cut to their year 5'
# 4 names, 3 notes, 9 other texts, 2 choices not shared, and the day of signing off; ref, x-phone, unknown, outdated, who.
check 'answers left out' err_says 'left out: answers 19: '
check 'by question' err_says 'name 4'
check 'what is no answer' err_says 'other values 5, comments 2'

cp out copy.yaml
run redact --rulebook mine.yaml copy.yaml
check 'a copy of the copy is the same' cmp copy.yaml out
check 'and leaves nothing out but its heading' err_says 'left out: answers 0; other values 0, comments 1'
run faults --rulebook mine.yaml copy.yaml
check_status 'the copy is a survey' 0
check 'with nothing unknown in it' out_is_empty

# The built-in rulebook: verdicts do not come from what is left out, but for ages within a year.
for demo in "$root"/surveys/*.yaml; do
	run redact "$demo"
	check_status "$(basename "$demo")" 0
	cp out copy.yaml
	run assess --format csv --on 2026-11-25 "$demo"
	cut -d, -f4,5,15 out >expected
	run assess --format csv --on 2026-11-25 copy.yaml
	cut -d, -f4,5,15 out >judged
	check "$(basename "$demo"): as many points" [ "$(wc -l <judged)" -eq "$(wc -l <expected)" ]
done

sed 's/form: text, label: Story/form: text, share: yes, label: Story/' mine.yaml >wrong.yaml
run faults wrong.yaml
check_status 'a text that is to be shared' 3
check 'its place' grep -q "^wrong.yaml:12:.*a text can tell whose it is: .story. can't be shared" out

run redact bad.yaml
check_status 'no file' 4
run redact mine.yaml
check_status 'a rulebook' 3
"$tundish" redact --rulebook mine.yaml house.yaml >/dev/full 2>err
status=$?
check_status 'a full disk' 4

finish
