#!/bin/sh
# The table shown in docs/assess.md is what the program prints.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

# The digest changes whenever the rulebook does.
without_digest() {
	sed 's/by rulebook [0-9a-f]*/by rulebook 3f9c0a1e/'
}

run assess --on 2026-11-25 --rulebook "$overlay" house.yaml
without_digest <out >expected
sed -n '/^## The table/,/^## CSV/p' "$root/docs/assess.md" | sed -n '/^```$/,/^```$/{/^```$/d;p;}' >shown
check 'a table is shown' [ -s shown ]
check 'it is the one printed' diff expected shown

sed -e '/ref: P1$/,/answers/s/e2e_dirty: yes/e2e_dirty: no/' -e '/ref: P2$/,/answers/s/e2e_dirty: no/e2e_dirty: yes/' \
	-e 's/^branches:/supply: { static_pressure_kpa: 320 }\nbranches:/' house.yaml >later.yaml
run history --on 2026-11-25 --rulebook "$overlay" --between house.yaml later.yaml
without_digest <out >expected
sed -n '/^## The table/,/^## CSV/p' "$root/docs/history.md" | sed -n '/^```$/,/^```$/{/^```$/d;p;}' >shown
check 'a comparison is shown' [ -s shown ]
check 'it is the one printed' diff expected shown

run invent --seed 42 --level 2 --premises salon_with_flat --on 2026-11-25
head -3 out | sed 's/^# rulebook [0-9a-f]*/# rulebook 3f9c0a1e/' >expected
sed -n '/^\$ tundish invent/,/^```/{/^[$`]/d;p;}' "$root/docs/invent.md" >shown
check 'the head of an invented house is shown' [ -s shown ]
check 'it is the one printed' diff expected shown

finish
