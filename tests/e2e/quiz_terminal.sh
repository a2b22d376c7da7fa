#!/bin/sh
# A quiz in a real terminal: an answer is in the log before the next task, the end is printed on the screen of before, a limit of time
# is shown, and a signal loses nothing.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1
log=$work/states/tundish/reviews/ann.ndjson

cat >own.yaml <<'Y'
quiz: 1
ref: own
title: Two questions
ask: [own]
on: 2026-11-25
questions:
Y
for id in a b; do
	cat >>own.yaml <<Y
  - id: own_$id
    ask: What do you do, $id?
    in_order: yes
    choices: [ { id: tell, text: Tell everybody., right: yes }, { id: shut, text: Shut it., grade: dangerous } ]
    because: Somebody may be in the middle of something.
Y
done
quiz="XDG_STATE_HOME=$work/states $tundish quiz --learner ann own.yaml"

# Until the log has so many lines.
log_has() {
	tries=0
	until [ "$(grep -c . "$log" 2>/dev/null)" = "$1" ]; do
		tries=$((tries + 1))
		[ "$tries" -le 100 ] || return 1
		sleep 0.1
	done
}

start "$quiz"
check 'the first task' wait_for 'What do you do, a'
check 'nothing is kept before it is answered' [ ! -e "$log" ]
keys 2
check 'the reason comes at once' wait_for 'in the middle of something'
check 'and the answer is kept' log_has 1
keys Space
check 'the next task' wait_for 'What do you do, b'
keys 1
check 'kept too' log_has 2
keys q
wait_for 'Leave?' && keys y
check 'the end is said on the screen of before' wait_for 'Score: 1 of 2; 1 dangerous.'
check 'and how to have it again' wait_for 'The same again: tundish quiz --seed'
check 'practice is no failure' wait_for '[0]'
check 'how long it took' perl -MJSON::PP -ne 'exit 1 unless decode_json($_)->{ms} > 0' "$log"

start "$quiz --mode exam --minutes 30"
check 'a limit of time' wait_for '30 min'
keys 1
check 'an answer of an exam is kept' log_has 3
keys q
wait_for 'Leave?' && keys y
check 'not handed in' wait_for 'Not handed in: 1 of 2 answered.'

start "sh -c 'echo \$\$ >pid; XDG_STATE_HOME=$work/states exec $tundish quiz --learner ann own.yaml'; stty -a | grep -o '.icanon'"
wait_for 'What do you do, a'
keys 1
check 'an answer before a signal' log_has 4
kill -TERM "$(cat pid)"
check 'the terminal is as before' wait_for ' icanon'
check 'nothing is lost' log_has 4

# Where nothing can be kept that is said on the screen too, and it goes on.
: >file
start "XDG_STATE_HOME=$work/file $tundish quiz --learner ann own.yaml"
wait_for 'What do you do, a'
keys 1
check 'not kept' wait_for 'Not kept'
keys Space
check 'it goes on' wait_for 'What do you do, b'
keys q
wait_for 'Leave?' && keys y
check 'how much was lost is said' wait_for 'answers that could not be kept: 1'

finish
