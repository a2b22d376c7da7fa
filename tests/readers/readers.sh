#!/bin/sh
# What is written reads back the same in readers that are not ours, of YAML 1.1 and of 1.2: readers.sh WRITE_TEXTS SOURCE_ROOT COUNT [SEED]
set -u
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

python=
for candidate in python3 /usr/bin/python3; do
	"$candidate" -c 'import yaml, ruamel.yaml' 2>/dev/null && python=$candidate && break
done
[ -n "$python" ] || { echo 'no readers here: python3-yaml and python3-ruamel.yaml'; exit 77; }
"$1" "$work" "$3" ${4:+"$4"} || exit 1
"$python" "$2/tests/readers/read_texts.py" "$work"
