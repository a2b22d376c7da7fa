# A real terminal for the scripts: a tmux server of its own, 80 by 24. Read after lib.sh.
# shellcheck shell=sh

command -v tmux >/dev/null || { echo 'tmux is missing'; exit 77; }
server=tundish-e2e-$$
trap 'tmux -L "$server" kill-server 2>/dev/null; rm -rf "$work"' EXIT

in_tmux() {
	tmux -L "$server" -f /dev/null "$@"
}

# Run a command line in the terminal; its exit status stays on the screen as [N].
start() {
	in_tmux kill-server 2>/dev/null
	while in_tmux list-sessions >/dev/null 2>&1; do :; done
	# a server that is still ending may take the first try with it
	starts=0
	until in_tmux new-session -d -x 80 -y 24 "$1; echo \"[\$?]\"; exec sleep 600" \; set -s escape-time 0 >/dev/null 2>&1 ||
		[ "$starts" -ge 10 ]; do
		starts=$((starts + 1))
		sleep 0.1
	done
}

screen() {
	in_tmux capture-pane -p >"$work/out"
}

# Wait until the screen says this (up to 20 s; slow machines, sanitizers).
wait_for() {
	tries=0
	while screen && ! grep -qF -- "$1" "$work/out"; do
		tries=$((tries + 1))
		if [ "$tries" -gt 200 ]; then
			return 1
		fi
		sleep 0.1
	done
}

# Keys as tmux names them; a text with -l in front.
keys() {
	in_tmux send-keys "$@"
}
