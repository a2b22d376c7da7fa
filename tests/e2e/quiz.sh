#!/bin/sh
# `quiz`: sitting one as lines, the log, the same again, progress, export and paper; what a kill, a full disk and an unwritable folder
# leave.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1
XDG_STATE_HOME=$work/states
export XDG_STATE_HOME
logs=$XDG_STATE_HOME/tundish/reviews

# A quiz whose answers are known: own questions alone, in their order.
cat >own.yaml <<'Y'
quiz: 1
ref: own
title: Own <questions> & no house
ask: [own]
on: 2026-11-25
seed: 7
mode: exam
pass_percent: 50
questions:
Y
for id in a b c d; do
	cat >>own.yaml <<Y
  - id: own_$id
    ask: What do you do, $id?
    in_order: yes
    choices:
      - { id: tell, text: Tell everybody., right: yes }
      - { id: shut, text: Shut it., grade: dangerous }
      - { id: wait, text: Come back later., grade: cautious }
      - { id: ring, text: Ring somebody. }
    because: Somebody may be in the middle of something.
Y
done

# Arguments: the lines that are typed (printf), then those of `quiz --plain`.
quiz() {
	typed=$1
	shift
	# shellcheck disable=SC2059
	printf "$typed" | "$tundish" quiz --plain "$@" >out 2>err
	status=$?
}

# Arguments: title, perl that must be true of @a, the answers in the log of ann.
log_says() {
	checks=$((checks + 1))
	perl -MJSON::PP -e 'open F, "<", shift; my @a = map { decode_json($_) } <F>; exit(eval(shift) ? 0 : 1)' "$logs/ann.ndjson" "$2" ||
		fail "$1"
}

run quiz --help
check 'an exam has a status of its own' sh -c 'tr -s " \n" " " <out | grep -q "0 done; 1 an exam.s mark was not reached; 2 wrong use"'

# -- practice --------------------------------------------------------------------------------------

quiz '1\n\n2\n\n3\n\n4\n\nq\n' --learner ann --mode practice own.yaml
check_status 'practice' 0
check 'the reason comes at once' out_says 'Somebody may be in the middle of something.'
check 'the score' out_says 'Score: 1.5 of 4; 1 dangerous; mark 50%: not reached.'
check 'how to have it again' out_says 'The same again: tundish quiz --seed 7 --mode practice --on 2026-11-25 own.yaml'
check 'nothing on standard error' err_is_empty
log_says 'four lines' '@a == 4'
log_says 'what was given, and its grade' \
	'join(" ", map { "$_->{item} $_->{given} $_->{grade}" } @a) eq "own_a tell right own_b shut dangerous own_c wait cautious own_d ring wrong"'
log_says 'what it was about' 'for my $a (@a) { die unless $a->{correct} eq "tell" && $a->{quiz} eq "own" && !defined $a->{survey}
	&& $a->{seed} eq "7" && $a->{learner} eq "ann" && $a->{on} eq "2026-11-25" && !$a->{exam} && $a->{pass_percent} == 50
	&& $a->{tasks} == 4 && $a->{family} eq "own" && $a->{level} == 0 && $a->{rulebook} =~ /^[0-9a-f]{16}$/
	&& $a->{at} =~ /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/ && $a->{scheduler} eq "boxes-1" && $a->{attempt} eq $a[0]{attempt} } 1'
check 'for nobody else to read' [ "$(stat -c %a "$logs/ann.ndjson")" = 600 ]

# -- exam ------------------------------------------------------------------------------------------

quiz '1\n1\n4\n4\nfinish\ny\nq\n' --learner ann own.yaml
check_status 'an exam that was passed' 0
check 'its score' out_says 'Score: 2 of 4; mark 50%: reached.'
quiz '1\n3\n4\n4\nfinish\ny\nq\n' --learner ann own.yaml
check_status 'an exam that was not' 1
check 'its score' out_says 'Score: 1.5 of 4; mark 50%: not reached.'
quiz '2\nbefore\n1\n' --learner bob own.yaml
check_status 'an exam that was not handed in' 1
check 'has no score' sh -c '! grep -q Score out'
check 'but that it was not' out_says 'Not handed in: '
quiz '1\n' --learner ann --mode practice own.yaml
check_status 'where the input ends nothing is lost' 0
log_says 'that answer too' '@a == 13'
quiz '' --learner ann --mode practice own.yaml
check_status 'nothing was answered' 0
log_says 'and nothing kept' '@a == 13'

# -- the same again --------------------------------------------------------------------------------

tasks() {
	grep -E '^== Task|^  [0-9] ' out
}
walk_on='\n\n\n\n\n\n\n\n\n\n\n\n\nq\ny\n'
quiz "$walk_on" --learner ann --on 2026-11-25 --seed 41
tasks >first
check 'a house is invented, and asked about' [ "$(grep -c '^== Task' first)" -ge 12 ]
quiz "$walk_on" --learner ann --on 2026-11-25 --seed 41
tasks >second
check 'the same seed, the same tasks' cmp first second
quiz "$walk_on" --learner ann --on 2026-11-25 --seed 42
tasks >second
check 'another seed, others' sh -c '! cmp -s first second'
quiz "$walk_on" --learner ann --on 2026-11-25
tasks >first
again=$(sed -n 's/^The same again: tundish quiz //p' out)
check 'a seed that was drawn is said' sh -c "echo '$again' | grep -qE '^--seed [1-9][0-9]{0,8} '"
# shellcheck disable=SC2086
quiz "$walk_on" --learner ann $again
tasks >second
check 'and gives the same again' cmp first second
quiz "$walk_on" --learner ann --rulebook "$overlay" house.yaml --ask category,on_paper --count 2 --seed 3
check 'a survey' [ "$(tasks | grep -c '^== Task 1 of 2')" -ge 1 ]
check 'no more than was asked for' sh -c '! grep -E "^== Task .*(soon|puts it right)" out'

odd=$(printf 'it'\''s \033[2Jodd.yaml')
cp own.yaml "$odd"
quiz 'q\ny\n' --learner ann --mode practice "$odd"
check 'a name that would clear the screen does not' sh -c '! grep -q "$(printf "\033")" out'
cp own.yaml "it's mine.yaml"
quiz 'q\ny\n' --learner ann --mode practice "it's mine.yaml"
eval "set -- $(sed -n 's/^The same again: tundish quiz //p' out)"
quiz 'q\ny\n' --learner ann "$@"
check 'what is said can be typed' out_says "'it'\\''s mine.yaml'"

# -- what is due -----------------------------------------------------------------------------------

# Two days after a wrong answer and three after one of box 1.
row=kitchen_mixer_sink
run rules --counts
run assess --format ndjson --on 2026-11-25 "$root/surveys/house.yaml"
row=$(perl -MJSON::PP -e 'while (<>) { my $p = decode_json($_); next unless $p->{kind} eq "washing_machine";
	print $p->{because}[0]{row}; exit }' "$work/out")
check 'a row of the demo' [ -n "$row" ]
sed -n 1p "$logs/ann.ndjson" | sed "s/\"rows\":\[\]/\"rows\":[\"$row\"]/; s/\"grade\":\"right\"/\"grade\":\"wrong\"/" >"$logs/due.ndjson"
check 'a log of one wrong answer' grep -q "$row" "$logs/due.ndjson"
quiz "$walk_on" --learner due --on 2100-01-01
check 'what is due is said' err_says 'rows that are due: 1'
check 'and asked first' sh -c "grep -q -- '--with $row ' out"
quiz "$walk_on" --learner due --on 2100-01-01 --with ''
check 'unless one says no' sh -c '! grep -q -e --with out || grep -q due err'
check 'then nothing is wanted' sh -c '! grep -q "The same again.*--with" out'

run quiz --progress --learner due --on 2100-01-01
check_status 'progress' 0
check 'by topic' grep -qE '^all topics +[0-9]+ +0 +1 +[0-9]+ +1$' out
check 'and the attempts' out_says 'own'
check 'the attempts first' sh -c 'head -n 1 out | grep -q "^The attempts:"'
check 'what known and shaky mean' out_says 'known: asked again after'
check 'topics not asked are a line' [ "$(grep -c '^Topics not asked yet: [0-9]' out)" -eq 1 ]
check 'and no more' [ "$(wc -l <out)" -le 12 ]
run quiz --progress --learner due --format csv --on 2100-01-01
check 'progress as CSV' [ "$(head -n 1 out | tr -d '\r')" = 'topic,name,is,rows,known,shaky,unseen,due' ]
check 'a row of it is due' grep -qE '^washing_machine,[^,]*,kind,[0-9]+,0,1,[0-9]+,1' out
run quiz --progress --learner due --format ndjson
check 'progress as JSON lines' perl -MJSON::PP -ne 'decode_json($_)' out
# Two answers about one row; the docs show what is printed of them.
sed -n 1,2p "$logs/ann.ndjson" | sed 's/"rows":\[\]/"rows":["washing_machine_house"]/; s/"at":"[^"]*"/"at":"2026-11-25T09:12:03Z"/
	s/"quiz":"own","survey":null/"quiz":null,"survey":"surveys\/house.yaml"/; s/"tasks":4/"tasks":12/; s/"pass_percent":50/"pass_percent":0/' >"$logs/shown.ndjson"
sed -n '/^`tundish quiz --progress`/,/^With `--format/p' "$root/docs/quiz_file.md" | sed '1,/^```$/d; /^```$/,$d' >shown
run quiz --progress --learner shown --on 2026-11-26
check 'the docs show what progress prints (if not: put there what follows)' diff shown out
run quiz --progress --learner nobody_yet
check_status 'progress of nobody' 0
check 'says how to begin' out_says 'Nothing was asked yet'

# -- export ----------------------------------------------------------------------------------------

run quiz export --learner ann
check_status 'export' 0
python3 - out <<'P' || failures=$((failures + 1))
import csv, sys
rows = list(csv.DictReader(open(sys.argv[1], newline='')))
assert len(rows) == 13, len(rows)
assert rows[1]['grade'] == 'dangerous' and rows[1]['item'] == 'own_b' and rows[1]['correct'] == 'tell', rows[1]
assert rows[4]['exam'] == 'yes' and rows[0]['exam'] == 'no' and rows[0]['tasks'] == '4'
P
checks=$((checks + 1))
# The columns are those of the docs, in their order, and the log's keys with them.
sed -n '/^## The log/,$p' "$root/docs/quiz_file.md" | sed -n 's/^| \(`[^|]*`\) |.*/\1/p' | tr -d '` ' | tr ',' '\n' >keys_shown
check 'the docs have keys' [ "$(wc -l <keys_shown)" -gt 20 ]
head -n 1 out | tr -d '\r' | tr ',' '\n' >columns
check 'the columns are those of the docs' sh -c 'grep -vx format keys_shown | cmp - columns'
log_says 'and so are the keys of the log' 'my %k = map { chomp; $_ => 1 } do { open my $f, "<", "keys_shown"; <$f> };
	join(" ", sort keys %k) eq join(" ", sort keys %{$a[0]})'
run quiz export --format ndjson
check_status 'export of all' 0
check 'everybody is there' sh -c 'grep -q "\"learner\": \"ann\"" out && grep -q "\"learner\": \"bob\"" out'
check 'every line is JSON' perl -MJSON::PP -ne 'decode_json($_)' out
# bob changed his first answer in the exam: both are in the log, the last one counts.
run quiz export --learner bob
check 'a changed answer counts once' [ "$(grep -c own_a out)" -eq 1 ]
check 'as it was at last' grep -q 'tell,tell,right' out
cp "$logs/bob.ndjson" elsewhere.ndjson
run quiz export elsewhere.ndjson
check 'a log by its path' grep -q '^bob,' out
run quiz export --learner nobody_yet
check_status 'nobody has no log' 4
check 'says which' err_says 'nobody_yet.ndjson'
run quiz export --format html
check_status 'no such export' 2

# -- scores ----------------------------------------------------------------------------------------

run quiz export --scores --learner ann
check_status 'scores' 0
check 'a line an attempt, and its header' [ "$(wc -l <out)" -eq 5 ]
python3 - out <<'P' || failures=$((failures + 1))
import csv, sys
def counts(r):
    return ' '.join(r[k] for k in ('mode', 'tasks', 'answered', 'right', 'cautious', 'wrong', 'dangerous', 'points', 'of', 'pass_percent', 'passed'))
rows = list(csv.DictReader(open(sys.argv[1], newline='')))
found = [counts(r) for r in rows]
assert found == ['practice 4 4 1 1 1 1 1.5 4 50 no', 'exam 4 4 2 0 2 0 2 4 50 yes', 'exam 4 4 1 1 2 0 1.5 4 50 no',
    'practice 4 1 1 0 0 0 1 4 50 no'], found
assert all(r['quiz'] == 'own' and r['started'] and r['ms'].isdigit() for r in rows), rows
P
checks=$((checks + 1))
sed -n '/^With `--scores`/,/^## The log/p' "$root/docs/quiz_file.md" | sed -n 's/^| \(`[^|]*`\) |.*/\1/p' | tr -d '` ' | tr ',' '\n' >keys_shown
check 'the docs have columns of scores' [ "$(wc -l <keys_shown)" -gt 20 ]
head -n 1 out | tr -d '\r' | tr ',' '\n' >columns
check 'the columns of scores are those of the docs' cmp keys_shown columns
run quiz export --scores --format ndjson --learner bob
perl -MJSON::PP -ne 'my $s = decode_json($_); print join(" ", sort keys %$s), "\n", "$s->{answered} $s->{right} $s->{dangerous} $s->{points} $s->{of}\n"' out >bob
check 'scores as JSON lines have the same keys' [ "$(sed -n 1p bob)" = "$(sort keys_shown | tr '\n' ' ' | sed 's/ $//')" ]
check 'an answer that was changed counts once, the last one' [ "$(sed -n 2p bob)" = '1 1 0 1 4' ]
run quiz export --scores
check 'scores of all' sh -c 'grep -q "^ann," out && grep -q "^bob," out'
run quiz export --scores elsewhere.ndjson
check 'scores of a log by its path' [ "$(grep -c '^bob,' out)" -eq 1 ]
run quiz export --scores --learner nobody_yet
check_status 'nobody has no scores' 4

# -- paper -----------------------------------------------------------------------------------------

run quiz paper own.yaml
check_status 'paper' 0
check 'the tasks' out_says '  4. What do you do, d?'
check 'no answers' sh -c '! grep -q "in the middle of something" out'
check 'how to have them' err_says 'tundish quiz paper --seed 7 --on 2026-11-25 own.yaml --answers'
run quiz paper --answers own.yaml
check 'the answers' out_says '  4. A  Tell everybody.'
check 'and reasons' out_says 'in the middle of something'
run quiz paper --on 2026-11-25 --seed 41
cp out one
run quiz paper --on 2026-11-25 --seed 41
check 'paper of an invented house, the same again' cmp one out
run quiz paper --ask spoiled --seed 3 --on 2026-11-25 "$root/surveys/school.yaml"
check 'an answer is in words' grep -q '\[ \] .*When was it put in? before July 1999' out
check 'and no id' sh -c '! grep -q before_july out'
for sheet in '' --answers; do
	# shellcheck disable=SC2086
	run quiz paper $sheet --format html --on 2026-11-25 "$root/surveys/quizzes/evening.yaml"
	check_status "HTML $sheet" 0
	python3 - out <<'P' || failures=$((failures + 1))
import sys
from html.parser import HTMLParser
text = open(sys.argv[1], encoding='utf-8').read()
class P(HTMLParser):
    open_tags = []
    seen = set()
    def handle_starttag(self, tag, attrs):
        self.seen.add(tag)
        assert not any(name in ('src', 'href', 'onclick', 'action') for name, _ in attrs), attrs
        if tag not in ('meta',):
            self.open_tags.append(tag)
    def handle_endtag(self, tag):
        assert self.open_tags.pop() == tag, tag
p = P()
p.feed(text)
p.close()
assert not p.open_tags, p.open_tags
assert 'script' not in p.seen and 'link' not in p.seen and 'img' not in p.seen, p.seen
assert 'http:' not in text and 'https:' not in text and 'url(' not in text and '@import' not in text
P
	checks=$((checks + 1))
done
run quiz paper --format csv own.yaml
check_status 'no such paper' 2
check 'says which there are' err_says 'text or html'
"$tundish" quiz paper own.yaml >/dev/full 2>err
status=$?
check_status 'paper on a full disk' 4

# -- a kill between two answers --------------------------------------------------------------------

mkfifo keys
"$tundish" quiz --plain --learner kill --mode practice own.yaml <keys >killed 2>&1 &
pid=$!
exec 3>keys
printf '1\n\n2\n\n' >&3
tries=0
until grep -q 'What do you do, c' killed || [ "$tries" -gt 300 ]; do
	tries=$((tries + 1))
	sleep 0.1
done
kill -9 "$pid"
wait "$pid" 2>/dev/null
exec 3>&-
cp "$logs/kill.ndjson" out
check 'both answers are there' [ "$(wc -l <"$logs/kill.ndjson")" -eq 2 ]
printf '{"format":1,"at":"20' >>"$logs/kill.ndjson"
quiz '3\n\nq\n' --learner kill --mode practice own.yaml
check_status 'after a line that was cut short' 0
run quiz --progress --learner kill
check 'that is said' err_says 'lines that are no answers are passed over: 1, the first is line 3'
run quiz export --learner kill
check 'the others are read' [ "$(grep -c '^kill,' out)" -eq 3 ]
printf '{"format":1,"at":"20' >>"$logs/kill.ndjson"
run quiz export --learner kill
check 'one at the end is said' err_says 'the last line was cut short (20 bytes) and is passed over'

# -- three at once ---------------------------------------------------------------------------------

for n in 1 2 3; do
	printf '1\n\n2\n\n3\n\n4\n\nq\n' | "$tundish" quiz --plain --learner three --mode practice own.yaml >/dev/null &
done
wait
run quiz export --learner three
check 'three at once do not mix' [ "$(grep -c '^three,' out)" -eq 12 ]
check 'not a line is bad' err_is_empty

# -- nowhere to keep answers -----------------------------------------------------------------------

: >file
XDG_STATE_HOME=$work/file quiz '1\n\n1\n\n1\n\n1\n\nq\n' --mode practice own.yaml
check_status 'a folder that can'\''t be written' 4
check 'is said' out_says 'Not kept: '
check 'once' [ "$(grep -c 'Not kept' out)" -eq 1 ]
check 'it goes on' out_says 'Score: 4 of 4'
check 'how much was lost' err_says 'answers that could not be kept: 4 ('
(
	# Past this no file grows: a full disk. What is printed goes through a pipe.
	ulimit -f 0
	printf '1\n\n1\n\n1\n\n1\n\nq\n' | "$tundish" quiz --plain --learner full --mode practice own.yaml 2>&1
	echo "status $?"
) | cat >out
status=0
check 'a full disk' out_says 'status 4'
check 'is said' out_says 'Not kept: '
check 'it goes on there too' out_says 'Score: 4 of 4'
check 'nothing half done' [ ! -s "$logs/full.ndjson" ]

# -- wrong use -------------------------------------------------------------------------------------

# Arguments: title, exit status, what is said, then those of `quiz`.
refused() {
	title=$1 expected=$2 says=$3
	shift 3
	run quiz "$@"
	check_status "$title" "$expected"
	check "$title: says so" err_says "$says"
	check "$title: nothing on standard output" out_is_empty
}

refused 'no terminal' 2 'or print it with `tundish quiz paper`' own.yaml
refused 'standard input' 2 'name a file' --plain -
refused 'two files' 2 'about one file' --plain own.yaml own.yaml
refused 'no such mode' 2 'it is practice or exam' --plain --mode exams own.yaml
refused 'no such family' 2 '--ask papre is not known' --plain --ask gap,papre own.yaml
refused 'no family' 2 'is not known' --plain --ask= own.yaml
refused 'no tasks' 2 '1 to 1000' --plain --count 0 own.yaml
refused 'a seed in words' 2 'whole number' --plain --seed seven own.yaml
refused 'no time' 2 '1 to 600' --plain --minutes 0 own.yaml
refused 'a nameless learner' 2 'a learner has a name' --plain --learner '' own.yaml
refused 'a learner who would clear the screen' 2 'no control characters' --plain --learner "$(printf 'a\033[2J')" own.yaml
refused 'answers of no paper' 2 '--answers is of `quiz paper`' --plain --answers own.yaml
refused 'scores of no export' 2 '--scores is of `quiz export`' --plain --scores own.yaml
refused 'scores of paper' 2 '--scores is of `quiz export`' paper --scores own.yaml
refused 'scores of progress' 2 '--scores is of `quiz export`' --progress --scores
refused 'scores and a format of paper' 2 'csv or ndjson' export --scores --format html
refused 'a format of no table' 2 '--format is of paper' --plain --format csv own.yaml
refused 'progress of a file' 2 'takes no file' --progress own.yaml
refused 'a level where there is a survey' 2 '--level is of an invented house' --plain --level 2 --rulebook "$overlay" house.yaml
refused 'a learner and a log' 2 'two ways' export --learner ann elsewhere.ndjson
refused 'a row that nobody has' 2 'e2e_tnak' --plain --rulebook "$overlay" --with e2e_tnak house.yaml
refused 'no such file' 4 'none.yaml' --plain none.yaml
refused 'a rulebook' 3 'is a rulebook, neither a survey nor a quiz file' --plain "$overlay"
refused 'a bad survey' 3 'bad.yaml:14:15' --plain --rulebook "$overlay" bad.yaml
sed 's/, right: yes//' own.yaml >spoiled.yaml
refused 'a bad quiz' 3 'has no right answer' --plain spoiled.yaml
check 'a bad quiz leaves no log' [ ! -e "$logs/$(id -un).ndjson" ]

finish
