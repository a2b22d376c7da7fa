#!/bin/sh
# A quiz of four answers is killed at every call that touches a file, and each of these calls is let fail: what was told to be right or
# wrong is in the log, whole, and once. Run as: quiz_calls.sh TUNDISH SOURCE_ROOT FAIL_SO
. "$(dirname "$0")/../e2e/lib.sh"
fail_so=$(realpath "$3")
cd "$work" || exit 1
XDG_STATE_HOME=$work/states
export XDG_STATE_HOME
log=$XDG_STATE_HOME/tundish/reviews/ann.ndjson

cat >own.yaml <<'Y'
quiz: 1
ref: own
ask: [own]
on: 2026-11-25
questions:
Y
for id in a b c d; do
	cat >>own.yaml <<Y
  - id: own_$id
    ask: What do you do, $id?
    in_order: yes
    choices: [ { id: tell, text: Tell everybody., right: yes }, { id: shut, text: Shut it. } ]
    because: Somebody may be in the middle of something.
Y
done

# A first answer, so that there is something to lose.
printf '1\n' | "$tundish" quiz --plain --learner ann own.yaml >/dev/null 2>&1
cp "$log" first

# Then four. Arguments: which call, how.
quiz() {
	cp first "$log"
	printf '1\n\n1\n\n1\n\n1\n\nq\n' |
		LD_PRELOAD=$fail_so FAIL_AT=$1 FAIL_HOW=$2 FAIL_LOG=$work/calls "$tundish" quiz --plain --learner ann own.yaml >out 2>err
	status=$?
}

# Lines of the log that are whole; 99 where one is not, or an answer is there twice.
whole() {
	perl -MJSON::PP -e 'my ($n, %seen); while (<>) { my $a = eval { decode_json($_) };
		if (!$a || $seen{"$a->{attempt} $a->{item}"}++) { print 99; exit } $n++ } print $n // 0' "$log"
}

quiz 0 kill
check 'without a failure all is kept' [ "$(whole)" -eq 5 ]
calls=$(cat calls)
check 'there are calls' [ "$calls" -ge 20 ]

# One call that fails costs nothing: it is tried again. Before the first answer it may be a file that is not read: then there is none.
n=1 before=1
while [ "$n" -le "$calls" ]; do
	quiz "$n" kill
	told=$(grep -c '^Right\.$' out) kept=$(whole)
	check "killed at call $n: what was told is kept" [ "$kept" -ge $((told + 1)) -a "$kept" -le 5 ]
	check "killed at call $n: no less than when killed before" [ "$kept" -ge "$before" ]
	before=$kept
	quiz "$n" 5
	told=$(grep -c '^Right\.$' out)
	check "call $n fails: all is kept" [ "$(whole)" -eq $((told + 1)) ]
	quiz "$n" 28+
	told=$(grep -c '^Right\.$' out) kept=$(whole)
	check "full from call $n on: what is there is whole" [ "$kept" -le $((told + 1)) ]
	check "full from call $n on: what is not is told of" \
		[ "$kept" -eq $((told + 1)) -o \( "$status" -eq 4 -a "$(grep -c 'could not be kept' err)" -eq 1 \) ]
	n=$((n + 1))
done
check 'killed at the last call all is kept' [ "$before" -eq 5 ]
printf '%s calls\n' "$calls"

finish
