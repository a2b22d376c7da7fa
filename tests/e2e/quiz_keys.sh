#!/bin/sh
# A quiz on a real terminal: keys, sizes, a kill after an answer, an interrupt; nothing of the survey changes, and no verdict is seen
# before its time.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/terminal.sh"
cd "$work" || exit 1

export XDG_STATE_HOME="$work/states"
log=$XDG_STATE_HOME/tundish/reviews/ann.ndjson
quiz="$tundish quiz --learner ann --on 2026-11-25"
cp "$root/surveys/house.yaml" house.yaml
cp house.yaml original.yaml

cat >own.yaml <<'Y'
quiz: 1
ref: own
title: Own questions
ask: [own]
on: 2026-11-25
seed: 7
pass_percent: 70
questions:
Y
for id in a b c; do
	cat >>own.yaml <<Y
  - id: own_$id
    ask: What do you do, $id?
    in_order: yes
    choices:
      - { id: tell, text: Tell everybody., right: yes }
      - { id: shut, text: Shut it., grade: dangerous }
      - { id: wait, text: Come back later., grade: cautious }
    because: Somebody may be in the middle of something.
Y
done

answers() {
	[ "$(wc -l <"$log")" -eq "$1" ]
}

# -- practice ----------------------------------------------------------------------------------------

start "$quiz own.yaml"
check 'the first task' wait_for 'Task 1 of 3'
keys Enter
check 'Enter alone is no answer' wait_for 'Press its number'
keys 2
check 'what it was worth' wait_for 'Dangerous'
check 'what is right' out_says 'Right answer: Tell everybody.'
check 'and why' out_says 'Somebody may be in the middle of something.'
check 'it is kept before the next task' answers 1
keys Enter
check 'on' wait_for 'Task 2 of 3'
keys Down Down Down
check 'one is marked' wait_for '> 3 Come back later.'
for size in '40 10' '1 1' '100 30' '39 24' '160 50' '80 24'; do
	in_tmux resize-window -x "${size% *}" -y "${size#* }"
done
check 'any size keeps the mark' wait_for '> 3 Come back later.'
keys Enter
check 'half a point' wait_for 'safe side'
keys Enter 1
check 'the last one' wait_for 'Right.'
keys Enter
check 'the result' wait_for 'Result: 1.5 of 3 (50%)'
check 'the mark' out_says 'Pass mark 70%: not reached'
check 'how many were dangerous' out_says '1 dangerous'
keys q
check 'practice is no failure' wait_for '[0]'
check 'three answers' answers 3

# -- exam --------------------------------------------------------------------------------------------

start "$quiz --mode exam own.yaml"
wait_for 'Task 1 of 3'
keys 2
check 'it goes on' wait_for 'Task 2 of 3'
checks=$((checks + 1))
grep -qE 'Dangerous|Right answer' out && fail 'nothing is told before the end'
keys 1 1
check 'all were answered' wait_for 'f hands in'
keys [ [
check 'the first again' wait_for 'Your answer: Shut it.'
keys 1
check 'changed' wait_for 'f hands in'
keys f
check 'asked' wait_for 'Hand in?'
keys y
check 'the mark is reached' wait_for 'Pass mark 70%: reached'
keys ]
check 'each can be read with its reason' wait_for 'Somebody may be in the middle of something.'
keys q
check 'passed' wait_for '[0]'

start "$quiz --mode exam own.yaml"
wait_for 'Task 1 of 3'
keys 2 2 2 f y
check 'not reached' wait_for 'Pass mark 70%: not reached'
keys q
check 'not passed' wait_for '[1]'

# -- a kill, an interrupt, an end --------------------------------------------------------------------

before=$(wc -l <"$log")
start "exec $quiz own.yaml"
wait_for 'Task 1 of 3'
keys 1
wait_for 'Right answer'
kill -9 "$(in_tmux display-message -p '#{pane_pid}')"
check 'an answer that was told of survives a kill' answers $((before + 1))

start "$quiz own.yaml"
wait_for 'Task 1 of 3'
keys C-c
check 'an interrupt asks' wait_for 'Leave?'
keys C-c
check 'a second one leaves' wait_for '[0]'
keys -l 'echo back'
check 'the terminal is as it was' wait_for 'echo back'

# -- the house of a survey ---------------------------------------------------------------------------

start "$quiz --seed 2 --count 5 --ask category,on_paper --with outside_tap house.yaml"
check 'a house' wait_for 'Task 1 of 5'
keys Escape
check 'its form' wait_for 'Space task'
keys Escape
check 'and the rest' wait_for '|  the house'
keys Home
wait_for 'Premises sheet'
hidden=yes
for row in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
	# the task may say it, in its answers; the house is above it
	sed '/^-- Task/,$d' out | grep -qE 'short by|undecided|unproven|protected|, now$|, days$|, next job$' && hidden=no
	keys Down
	screen
done
check 'no verdict in the house' [ "$hidden" = yes ]
keys a d x u s l w
keys C-s
check 'nothing can be saved' wait_for 'Nothing to save'
keys Space
wait_for 'Enter answer'
keys f y
check 'over' wait_for 'Result: 0 of 5'
keys Escape
wait_for '|  the house'
keys Home
check 'now they are shown' wait_for 'short by'
keys q
check 'left' wait_for '[0]'
check 'the survey is as it was' cmp original.yaml house.yaml

finish
