#!/bin/sh
# The demo surveys are sound, and every shortfall in them is explained: a path, a reason and its source.
. "$(dirname "$0")/lib.sh"
cd "$root/surveys" || exit 1

run faults ./*.yaml
check_status 'the demo surveys have no faults' 0
check 'nor notices' out_is_empty

run assess --on 2026-11-25 ./*.yaml
check_status 'something is short in them' 1
check 'no complaint' err_is_empty

run assess --on 2026-11-25 --format ndjson ./*.yaml
cat >"$work/explained.pl" <<'P'
# Short: a path that is short or could be, a row that holds with a source. Undecided: something to ask.
use strict; use warnings; use JSON::PP;
my %count;
while (my $line = <STDIN>) {
	my $p = decode_json($line);
	my $is = "$p->{file} $p->{ref}";
	$count{$p->{verdict}}++;
	if ($p->{verdict} eq "short") {
		my @paths = grep { $_->{shortfall}{on_paper}{most} > 0 || $_->{shortfall}{in_fact}{most} > 0 } @{$p->{paths}};
		@paths or die "$is: no path\n";
		$_->{to} && $_->{fluid} && $_->{mechanism} or die "$is: path\n" for @paths;
		my @rows = grep { $_->{holds} eq "yes" && $_->{source} && $_->{says} } @{$p->{because}};
		@rows or die "$is: no reason\n";
		$p->{urgency} ne "none" or die "$is: no urgency\n";
	}
	@{$p->{ask_next}} or die "$is: nothing to ask\n" if $p->{verdict} eq "undecided";
}
# A demo that shows nothing of a word shows it to nobody.
$count{$_} or die "no point is $_\n" for qw(short undecided not_seen unproven protected);
P
checks=$((checks + 1))
perl "$work/explained.pl" <"$work/out" 2>"$work/err" || fail 'every shortfall is explained'

finish
