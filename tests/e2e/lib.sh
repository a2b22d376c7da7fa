# What the end-to-end scripts share. Each is run as: SCRIPT TUNDISH SOURCE_ROOT, in no particular folder.
# shellcheck shell=sh

set -u
tundish=$(realpath "$1")
root=$(realpath "$2")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
failures=0 checks=0 status=0
unset NO_COLOR ACCESSIBLE
export LC_ALL=C.UTF-8
: >"$work/out" 2>"$work/err"

# Run tundish; what it said is in $work/out and $work/err, its exit status in $status.
run() {
	"$tundish" "$@" >"$work/out" 2>"$work/err" </dev/null
	status=$?
}

fail() {
	failures=$((failures + 1))
	printf 'FAILED: %s\n' "$1"
	printf -- '-- status %s; standard output:\n' "$status"
	head -c 2000 "$work/out"
	printf -- '-- standard error:\n'
	head -c 2000 "$work/err"
}

# Arguments: title, then a command that must succeed.
check() {
	title=$1
	shift
	checks=$((checks + 1))
	"$@" || fail "$title"
}

# Arguments: title, exit status expected.
check_status() {
	check "$1: exit status $2" [ "$status" -eq "$2" ]
}

out_says() {
	grep -qF -- "$1" "$work/out"
}

err_says() {
	grep -qF -- "$1" "$work/err"
}

out_is_empty() {
	[ ! -s "$work/out" ]
}

err_is_empty() {
	[ ! -s "$work/err" ]
}

finish() {
	printf '%d checks, %d failures\n' "$checks" "$failures"
	[ "$failures" -eq 0 ] && [ "$checks" -gt 0 ]
	exit
}
