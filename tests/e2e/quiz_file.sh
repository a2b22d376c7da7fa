#!/bin/sh
# `faults` on quiz files: told apart from surveys and rulebooks, every fault with its place, and what they name.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

faults() {
	run faults --rulebook "$overlay" "$@"
}

cat >quiz.yaml <<'Y'
# A class.
quiz: 1
ref: class
survey: house.yaml
seed: 7
points: [P1, P2]
with: [e2e_tank]
questions:
  - id: shut
    ask: What do you do before you shut the stop valve?
    choices: [ { id: tell, text: Tell everybody., right: yes }, { id: shut, text: Shut it., grade: dangerous } ]
    because: Somebody may be in the middle of something.
Y

faults quiz.yaml
check_status 'a sound quiz' 0
check 'nothing to say' out_is_empty
check 'it was read' err_says 'files 1, faults 0, notices 0'

# Arguments: title, what to change in the quiz (sed), what must be said.
spoiled() {
	sed "$2" quiz.yaml >spoiled.yaml
	faults spoiled.yaml
	check_status "$1" 3
	check "$1: says $3" grep -qE "^spoiled\\.yaml:$3" out
	check "$1: and shows where" grep -qE '^ *\^' out
}

spoiled 'no right answer' 's/, right: yes//' '11:14: the question `shut` has no right answer'
spoiled 'two right answers' 's/grade: dangerous/right: yes/' '11:14: the question `shut` has 2 right answers'
spoiled 'no reason' '/because/d' '9:5: the question `shut` has no reason'
spoiled 'a reason that is the answer' 's/because: .*/because: tell everybody/' '12:14: the reason of `shut` says no more'
spoiled 'a choice twice' 's/id: shut, text/id: tell, text/' '11:71: the choice `tell` is there twice'
spoiled 'an unknown family' 's/^seed.*/ask: [on_papre]/' '5:7: `on_papre` is no family of tasks: did you mean `on_paper`'
spoiled 'a number out of range' 's/^seed.*/count: 0/' '5:8: `count` is a whole number, 1 to 1000'
spoiled 'a survey and an invented house' 's/^seed.*/invent: { rooms: 3 }/' '5:9: a quiz is about a `survey` or'
spoiled 'a format from the future' 's/^quiz: 1/quiz: 2/' '2:7: format 2 is from a newer tundish'
spoiled 'a point that nobody has' 's/P2/P9/' '6:14: `P9` is no point of the survey'
spoiled 'a row that nobody has' 's/e2e_tank/e2e_tnak/' '7:8: `e2e_tnak` is no row, kind or type of the rulebook: did you mean `e2e_tank`'
spoiled 'a survey that is not there' 's/house.yaml/hause.yaml/' '4:9: .*hause.yaml'
spoiled 'a survey that is bad' 's/house.yaml/bad.yaml/' '4:9: bad.yaml can.t be used: `tundish faults` names its 3 faults'
spoiled 'not YAML' 's/^points: ./points: {/' '[0-9]+:[0-9]+: '

spoiled 'points of a house that nobody knows' 's/^survey.*/x-a: b/; s/^seed.*/x-b: c/' '6:9: `points` are of a `survey`, or of a house invented'
spoiled 'a point that the invented house has not' 's/^survey.*/x-a: b/; s/P1, P2/P1, Q99/' '6:.*: `Q99` is no point of the survey'
spoiled 'a question about a point that nobody has' 's/^  - id: shut/  - point: P9\n    id: shut/' '9:12: `P9` is no point of the survey'
spoiled 'the same of an invented house' 's/^survey.*/x-a: b/; /^points/d; s/^  - id: shut/  - point: Q99\n    id: shut/' \
	'8:12: `Q99` is no point of the survey'
spoiled 'a number without its right one' 's/^    choices.*/    number: { least: 0, most: 500, unit: mm }/' '11:13: a number needs `right`'
spoiled 'a site that nobody has' '/^points/d; s/^survey.*/invent: { premises: terraced_huose }/' \
	'4:21: `terraced_huose` is no site that the rulebook can invent: did you mean `terraced_house`'

cat quiz.yaml >twice.yaml
sed -n '/  - id: shut/,$p' quiz.yaml >>twice.yaml
faults twice.yaml
check_status 'two questions of one id' 3
check 'says which' grep -qE '^twice\.yaml:13:9: the question `shut` is there twice' out

sed 's/^seed: 7/sede: 7/; s/^with/x-with/' quiz.yaml >spoiled.yaml
faults spoiled.yaml
check_status 'an unknown key is a notice only' 0
check 'it is named' grep -qE '^spoiled\.yaml:5:1: notice: `sede` is no key of a quiz file: did you mean `seed`' out
check 'but the user'\''s own keys are not' [ "$(grep -c notice out)" -eq 1 ]

# The key that tells may stand anywhere, and the survey is beside the quiz, wherever one stands.
mkdir -p class && sed 's,house.yaml,../house.yaml,' quiz.yaml | sed '/^quiz: 1/d' >class/last.yaml && echo 'quiz: 1' >>class/last.yaml
faults class/last.yaml
check_status 'the key at the end, the survey above' 0
cd class || exit 1
faults last.yaml
check_status 'and from within the folder' 0
cd .. || exit 1
check 'nothing to say' out_is_empty
printf '{ "quiz": 2, "ref": "class" }' >flow.yaml
faults flow.yaml
check 'in flow style it is no survey either' sh -c '! grep -q tundish:.1 out'

run assess quiz.yaml
check_status 'a quiz file where a survey is expected' 3
check 'says so' err_says 'quiz.yaml is a quiz file, not a survey'
run assess --rulebook quiz.yaml house.yaml
check_status 'a quiz file where a rulebook is expected' 3
check 'says so' err_says 'quiz.yaml is a quiz file, not a rulebook'

run faults "$root"/surveys/quizzes/*.yaml
check_status 'the quizzes to try are sound' 0
check 'without notices' out_is_empty

# The example of the docs: its quiz is read, and the fault shown is the one printed.
sed -n '/^    quiz: 1/,/^$/s/^    //p' "$root/docs/quiz_file.md" >shown.yaml
check 'an example is shown' [ "$(grep -c . shown.yaml)" -gt 15 ]
sed -i 's/^survey.*/survey: house.yaml/' shown.yaml
run faults shown.yaml
check 'it has no faults of its own' sh -c '! grep "^shown" out | grep -v "^shown.yaml:4:"'
# A question of the docs with a number, about a point: of a survey, and of a house that is invented for it.
about() {
	{
		printf 'quiz: 1\nref: own\nseed: 7\nask: [own]\n%s\nquestions:\n' "$1"
		sed -n '/^      - id: how_high/,/^$/s/^    //p' "$root/docs/quiz_file.md" | sed "s/point: K1/point: $2/"
	} >own.yaml
	run faults own.yaml
	check_status "a number about a point, $1" 0
	run quiz paper own.yaml
	check "$1: its point is shown" grep -q "^-- $2: " out
	check "$1: a number is asked for" grep -q '____ mm$' out
}
about "survey: $root/surveys/house.yaml" K1
about 'invent: { level: 1 }' P1

run quiz - --plain
check_status 'a quiz that is read where answers come from' 2
check 'says what to do' err_says 'name a file'

cat >spoiled.yaml <<'Y'
quiz: 1
ref: class
questions:
  - id: shut
    ask: What do you do before you shut the stop valve?
    choices: [ { id: tell, text: Tell everybody. }, { id: shut, text: Shut it. } ]
    because: Somebody may be in the middle of something.
Y
run faults spoiled.yaml
sed -n '/^    \$ tundish faults spoiled.yaml/,/^$/s/^    //p' "$root/docs/quiz_file.md" | sed 1d >shown
check 'a fault is shown' [ -s shown ]
check 'it is the one printed' diff shown out

finish
