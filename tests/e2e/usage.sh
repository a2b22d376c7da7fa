#!/bin/sh
# Wrong use is refused with one sentence that helps, and nothing on standard output; help and version go there.
. "$(dirname "$0")/lib.sh"

# Arguments: title, what standard error must say, then the arguments of tundish.
refused() {
	title=$1 said=$2
	shift 2
	run "$@"
	check_status "$title" 2
	check "$title: says $said" err_says "$said"
	check "$title: nothing on standard output" out_is_empty
	check "$title: one line" [ "$(wc -l <"$work/err")" -eq 1 ]
}

survey=$work/survey.yaml
echo 'tundish: 1' >"$survey"

refused 'no command' 'a command is missing'
refused 'a command with a slip' 'did you mean `tundish assess`?' asess "$survey"
refused 'an abbreviated command' 'asse is not a command' asse "$survey"
refused 'a word that is no command' '`tundish --help` names them' qqqqqqqq
refused 'an option before the command' 'a command comes first' --on 2026-11-25 assess "$survey"
refused 'no file' 'PATH... is missing' assess
refused 'two names' 'is one too many' rules ED EB
refused 'an unknown option' '--zzz is not an option here' assess --zzz "$survey"
refused 'an option with a slip' 'did you mean --format?' assess --fromat csv "$survey"
refused 'an abbreviated option' '--form is not an option here' assess --form csv "$survey"
refused 'an option of another command' '--ascii is not an option here' assess --ascii "$survey"
refused 'a short option' './-x' assess -x
refused 'no value' '--format wants a value' assess "$survey" --format
refused 'a value too many' '--ascii takes no value' walk --ascii=yes "$survey"
refused 'an unknown format' 'table, csv or ndjson' assess --format xml "$survey"
refused 'no day' 'is not a day' assess --on 2026-11 "$survey"
refused 'a day that is none' 'is not a day' assess --on 2026-02-30 "$survey"
refused 'a walk without a terminal' 'or with --plain' walk "$work/new.yaml"
check 'a walk without a terminal makes no file' [ ! -e "$work/new.yaml" ]
refused 'a walk of standard input' 'standard input is none' walk -
refused 'help on what is no command' 'did you mean `tundish walk`?' help wlak
refused 'no category' '--for wants a value' rules --for
refused 'a category that needs nothing' 'it is 2, 3, 4 or 5' rules --for 1
refused 'a category that is none' 'it is 2, 3, 4 or 5' rules --for 6
refused 'a category and more' 'it is 2, 3, 4 or 5' rules --for 44
refused 'an empty category' 'it is 2, 3, 4 or 5' rules --for=
refused 'a category in words' 'it is 2, 3, 4 or 5' rules --for four
refused 'an unknown mechanism' 'it is back_pressure or back_siphonage' rules --for 4 --mechanism siphon
refused 'a mechanism alone' '--mechanism wants a category too' rules --mechanism back_pressure
refused 'a mechanism with a name' '--mechanism wants a category too' rules --mechanism back_pressure ED
refused 'an unknown standing' 'it is published, common_practice or memory' rules --standing hearsay
refused 'no standing' '--standing wants a value' rules --standing
refused 'counts of something' '--counts takes no value' rules --counts=3
refused 'a category and a name' 'are asked one at a time' rules --for 4 ED
refused 'a category and a standing' 'are asked one at a time' rules --for 4 --standing memory
refused 'counts and a name' 'are asked one at a time' rules --counts ED
refused 'counts and a standing' 'are asked one at a time' rules --counts --standing memory
refused 'a category of another command' '--for is not an option here' assess --for 4 "$survey"
refused 'a rule with a slip' 'did you mean' rules washbasinn

for command in walk assess rules faults quiz; do
	run "$command" --help
	check_status "$command --help" 0
	check "$command --help: usage" out_says "Usage: tundish $command "
	check "$command --help: nothing on standard error" err_is_empty
	check "$command --help: at most 80 columns" [ "$(awk 'length > 80' "$work/out" | wc -l)" -eq 0 ]
	cp "$work/out" "$work/help"
	run help "$command"
	check "help $command is the same" cmp -s "$work/help" "$work/out"
	run --help
	check "--help names $command" out_says "  tundish $command "
done
check '--help: at most 80 columns' [ "$(awk 'length > 80' "$work/out" | wc -l)" -eq 0 ]
check '--help: with care' out_says 'approves nothing'

run --version
check_status '--version' 0
check '--version: name and number' grep -qE '^tundish [0-9]+\.[0-9]+\.[0-9]+$' "$work/out"

# Options and operands may be mixed; -- ends the options.
cp "$survey" "$work/--on"
cd "$work" || exit 1
run assess survey.yaml --on=2026-11-25 --format csv
check_status 'options after operands' 0
run assess --format csv -- --on
check_status 'a file that is called like an option' 0

finish
