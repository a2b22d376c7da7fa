#!/bin/sh
# `assess`: the three formats, many files, standard input, the exit status, and output that cannot be written.
. "$(dirname "$0")/lib.sh"
. "$(dirname "$0")/survey.sh"
cd "$work" || exit 1

assess() {
	run assess --on 2026-11-25 --rulebook "$overlay" "$@"
}

# -- the table

assess house.yaml
check_status 'something short' 1
check 'nothing on standard error' err_is_empty
check 'the point that is short' grep -qE '^  P1 +Cattle trough +short +[a-z -]+ +5 +2 +2$' out
check 'the protected point' grep -qE '^  P2 +Cattle trough +protected +- +3 +0 +0$' out
check 'the undecided point' grep -qE '^  P3 +Cattle trough +undecided +[a-z -]+ 3 to 5 +0 to 2 0 to 2$' out
check 'its path' out_says 'path  water in the trough, by back siphonage through the feed inlet'
check 'why, with its source' out_says '[e2e_tank_dirty:'
check 'source and standing' out_says 'line 1; published]'
check 'what to ask next' out_says 'Is the water dirty? [e2e_dirty]'
check 'the counts' out_says '3 points: 1 short, 1 undecided, 0 not seen, 0 unproven, 1 protected'
check 'the day' out_says 'for 2026-11-25.'
check 'with care' out_says 'approves nothing'
check 'at most 80 columns' [ "$(awk 'length > 80' out | wc -l)" -eq 0 ]

cp out first
assess house.yaml
check 'the same bytes again' cmp -s first out

assess fine.yaml
check_status 'nothing short' 0

# -- CSV

assess --format csv house.yaml fine.yaml
check_status 'csv' 1
check 'one header and a line a point' [ "$(wc -l <out)" -eq 7 ]
check 'lines end in CR LF' [ "$(grep -c "$(printf '\r')\$" out)" -eq 7 ]
check 'a name that looks like a formula is none' out_says ",\"'=Kitchen, back\",P1,e2e_tank,yes,2026-11-25,"
check 'the figures' out_says ',5,5,2,2,2,2,short,'

# -- JSON lines

assess --format ndjson house.yaml
check_status 'ndjson' 1
check 'a line a point' [ "$(wc -l <out)" -eq 3 ]
cat >contract.pl <<'P'
# Every line is a JSON object with all keys of the contract, no other, each of its one type.
use strict; use warnings; use JSON::PP;
my @keys = qw(file part room ref kind seen on rulebook category fluids paths shortfall verdict urgency because ask_next);
my $points = 0;
sub range { my ($r) = @_; join(" ", sort keys %$r) eq "least most" && $r->{least} <= $r->{most} or die "range\n" }
while (my $line = <STDIN>) {
	my $p = decode_json($line);
	join(" ", sort keys %$p) eq join(" ", sort @keys) or die "keys: @{[sort keys %$p]}\n";
	range($_) for $p->{category}, @{$p->{shortfall}}{qw(on_paper in_fact)};
	for my $path (@{$p->{paths}}) {
		join(" ", sort keys %$path) eq
			"accepted as_found fluid inlet mechanism needs shortfall to type_good_for" or die "path\n";
		range($_) for @$path{qw(needs type_good_for accepted as_found)}, @{$path->{shortfall}}{qw(on_paper in_fact)};
	}
	for my $fluid (@{$p->{fluids}}) {
		join(" ", sort keys %$fluid) eq "by category fluid inlets" or die "fluid\n";
	}
	for my $row (@{$p->{because}}) {
		join(" ", sort keys %$row) eq "holds row says source standing" or die "because\n";
	}
	ref $p->{ask_next} eq "ARRAY" or die "ask_next\n";
	$points++;
}
$points == $ARGV[0] or die "points: $points\n";
P
# The core modules of perl come with build-essential.
check 'the contract' perl contract.pl 3 <out
check 'keys in the order of the contract' grep -qE \
	'^\{"file": "house.yaml", "part": "flat", "room": "=Kitchen, back", "ref": "P1", "kind": "e2e_tank", "seen": "yes", "on": "2026-11-25", "rulebook": "[0-9a-f]{8}", "category": \{"least": 5, "most": 5\}, "fluids": \[\{"fluid": "trough_water"' out
check 'what to ask of the undecided point' grep -qE '"ref": "P3".*"verdict": "undecided".*"ask_next": \["e2e_dirty"\]' out
cp out first
LC_ALL=C assess --format ndjson house.yaml
check 'the same bytes in another locale' cmp -s first out

# -- standard input

"$tundish" assess --on 2026-11-25 --rulebook "$overlay" --format ndjson - <house.yaml >out 2>err
status=$?
check_status 'standard input' 1
check 'it is called -' out_says '{"file": "-", '

# -- bad files do not stop the rest

assess --format ndjson bad.yaml fine.yaml
check_status 'a bad file and a good one' 3
check 'the good one is assessed' [ "$(wc -l <out)" -eq 3 ]
check 'the fault has its place' grep -qE '^bad\.yaml:14:15: ' err
check 'and the word that was meant' err_says 'e2e_tank'
check 'the line and a caret under it' grep -qE '^ +\^' err
assess --format ndjson house.yaml none.yaml bad.yaml
check_status 'unreadable is worse than bad' 4
check 'its name is said' err_says 'none.yaml'
check 'the others were tried' grep -q '^bad\.yaml:' err
assess --rulebook none.yaml house.yaml
check_status 'no such rulebook' 4
assess --rulebook house.yaml house.yaml
check_status 'a survey in place of a rulebook' 3
check 'is said to be one' err_says 'house.yaml is a survey, not a rulebook'
assess "$overlay" fine.yaml
check_status 'a rulebook in place of a survey' 3
check 'is said to be one' err_says 'overlay.yaml is a rulebook, not a survey'

# -- houses larger than there are: they come to an end, and it is said

awk 'BEGIN {
	print "tundish: 1\nbranches:"
	for (i = 1; i <= 190000; i++)
		print "- { ref: b" i ", from: " (i < 190000 ? "b" i + 1 : "main") " }"
	print "rooms:\n- { ref: yard, points: [ { ref: P1, kind: e2e_tank, inlets: { feed: { fed_by: b1, protection: nothing } } } ] }"
}' >far.yaml
assess --format ndjson far.yaml
check_status 'a chain of 190,000 branches' 0
check 'it is said' [ "$(cat err)" = "far.yaml: 'P1': its water comes by more ways or past more protection than can be followed" ]
check 'all is possible' grep -qF '"shortfall": {"on_paper": {"least": 0, "most": 4}, "in_fact": {"least": 0, "most": 4}}, "verdict": "undecided"' out
awk 'BEGIN {
	print "tundish: 1\npremises:\n  parts:"
	for (i = 1; i <= 2000; i++)
		print "  - { ref: p" i ", use: house }"
	print "branches:"
	for (i = 1; i <= 2000; i++)
		print "- { ref: b" i ", from: main }"
}' >parts.yaml
assess --format ndjson parts.yaml fine.yaml
check_status 'too many branches for too many parts' 3
check 'it is said' err_says 'parts.yaml: 2000 branches, and points that they come from, for 2000 parts: more than can be followed'
check 'the other is assessed' [ "$(wc -l <out)" -eq 3 ]

# -- output that nobody takes

if [ -e /dev/full ]; then
	"$tundish" assess --rulebook "$overlay" house.yaml >/dev/full 2>err
	status=$?
	check_status 'a full disk' 4
	check 'it is said' [ -s err ]
fi
seq 300 | sed 's/.*/house.yaml/' >names
{
	# shellcheck disable=SC2046
	"$tundish" assess --rulebook "$overlay" --format ndjson $(cat names) 2>err
	echo $? >code
} | head -1 >out
status=$(cat code)
check_status 'a reader that goes away' 1
check 'it is not worth a word' err_is_empty

finish
