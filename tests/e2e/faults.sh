#!/bin/sh
# `faults`: surveys and rulebooks told apart, every fault with its place, and the exit status.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

faults() {
	run faults --rulebook "$overlay" "$@"
}

faults house.yaml
check_status 'a sound survey' 0
check 'nothing to say' out_is_empty
check 'but how many were read' err_says 'files 1, faults 0, notices 0'

faults bad.yaml
check_status 'a bad survey' 3
check 'place and nearest word' grep -qE '^bad\.yaml:14:15: .*e2e_tank' out
check 'all three of them' [ "$(grep -c '^bad\.yaml:' out)" -eq 3 ]
check 'the source line' out_says 'kind: e2e_tnak'
check 'the caret below it' grep -qE '^ +\^' out

# Arguments: title, what to change in the survey (sed), what must be said.
spoiled() {
	sed "$2" house.yaml >spoiled.yaml
	faults spoiled.yaml
	check_status "$1" 3
	check "$1: says $3" grep -qE "^spoiled\\.yaml:$3" out
}

spoiled 'a value outside its domain' 's/e2e_dirty: no/e2e_dirty: perhaps/' '22:31: '
spoiled 'a duplicate ref' 's/ref: P2$/ref: P1/' '18:14: '
spoiled 'a duplicate key' 's/^        seen: yes/        kind: e2e_tank/' '15:9: '
spoiled 'a feed that names nothing' 's/fed_by: cold, protection: \[ { ref: P2a/fed_by: cool, protection: [ { ref: P2a/' '21:35: '
spoiled 'a format from the future' 's/^tundish: 1/tundish: 2/' '2:10: '
spoiled 'not YAML' 's/^branches:/branches: [/' '[0-9]+:[0-9]+: '
spoiled 'an alias' 's/ref: bench/ref: \*bench/' '4:8: '

sed 's/^        seen: yes/        sene: yes/' house.yaml >spoiled.yaml
faults spoiled.yaml
check_status 'an unknown key is a notice only' 0
check 'it is named' grep -qE '^spoiled\.yaml:15:9: notice: ' out
sed 's/^        seen: yes/        x-mine: yes/' house.yaml >spoiled.yaml
faults spoiled.yaml
check 'but the user'\''s own keys are not' out_is_empty

printf '\377\376t\000u\000' >utf16.yaml
faults utf16.yaml
check_status 'UTF-16' 3
printf '\357\273\277tundish: 1\r\n' >bom.yaml
faults bom.yaml
check_status 'a byte order mark and CRLF are fine' 0
: >empty.yaml
faults empty.yaml
check_status 'an empty survey is fine' 0

# -- rulebooks

run faults "$overlay"
check_status 'a sound rulebook' 0
check 'nothing to say of it' out_is_empty
sed 's/category: 5/category: 6/' "$overlay" >book.yaml
run faults book.yaml
check_status 'a bad rulebook' 3
check 'its place' grep -qE '^book\.yaml:17:' out
sed 's/e2e_dirty: yes/e2e_drity: yes/' "$overlay" >book.yaml
run faults book.yaml
check_status 'a condition that names no question' 3
check 'its place and name' grep -qE '^book\.yaml:16:.*e2e_drity' out
sed '/source: Table of the test book, line 1/d' "$overlay" >book.yaml
run faults book.yaml
check_status 'a row with no source' 3
printf '{"kinds": []}\n' >book.yaml
run faults book.yaml
check_status 'a rulebook in flow style' 0
check 'is taken for one' out_is_empty

# -- several

faults bad.yaml house.yaml none.yaml "$overlay"
check_status 'the worst counts' 4
check 'the rest is read all the same' err_says 'files 3, faults 3, notices 0'

{ printf 'tundish: 1\n'; seq 3000 | sed 's/.*/k&: 1/'; } >"$work/many.yaml"
run faults "$work/many.yaml"
check 'notices that are not listed are counted' err_says 'faults 0, notices 3000'

finish
