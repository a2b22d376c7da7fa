#!/bin/sh
# The arrows of the house hold, and the test that says so can fail. Argument: the top folder of the project.
set -eu
top=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

hold() {
	find "$1/src" "$1/include" -name '*.[ch]' | sort | xargs awk -v root="$1" -f "$top/tests/test_arrows.awk"
}

# A house with one breach in it. Arguments: title, file, line, what must be said.
spoiled() {
	rm -rf "$work/src" "$work/include"
	mkdir -p "$work/include/tundish" "$work/src" "$(dirname "$work/$2")"
	printf '#include <string.h>\n%s\n' "$3" >"$work/$2"
	if hold "$work" >"$work/said"; then
		[ "$4" = fine ] || { echo "not noticed: $1"; exit 1; }
	elif ! grep -qF -- "$4" "$work/said"; then
		echo "$1:"; cat "$work/said"; exit 1
	fi
}

spoiled 'up an arrow' src/assess/a.c '#include "tundish/house/verdict.h"' 'assess may not know house'
spoiled 'a header up an arrow' include/tundish/base/a.h '#include "tundish/assess/survey.h"' 'base may not know assess'
spoiled 'store and print' src/print/a.c '#include "tundish/store/file.h"' 'print may not know store'
spoiled 'print and walk' src/walk/a.c '#include "tundish/print/csv.h"' 'walk may not know print'
spoiled 'walk and screen' src/walk/a.c '#include "tundish/screen/run.h"' 'walk may not know screen'
spoiled 'store and house' src/store/yaml/a.c '#include "tundish/house/verdict.h"' 'store may not know house'
spoiled 'yaml in walk' src/walk/a.c '#include <yaml.h>' 'only store may include <yaml.h>'
spoiled 'curses in commands' src/commands/a.c '#include <curses.h>' 'only screen may include <curses.h>'
spoiled 'a clock in house' src/house/a.c '#include <time.h>' 'house may not include <time.h>'
spoiled 'a locale in base' src/base/a.c '#include <locale.h>' 'base may not include <locale.h>'
spoiled 'a file in assess' src/assess/a.c 'FILE *f;' 'assess may not use FILE'
spoiled 'printing in house' src/house/a.c 'printf("x");' 'house may not use printf'
spoiled 'exit in store' src/store/files/a.c 'exit(1);' 'only commands may use exit'
spoiled 'stderr in print' include/tundish/print/a.h 'x(stderr);' 'only commands may use stderr'
spoiled 'another folder'\''s private header' src/walk/a.c '#include "../house/tree.h"' 'a private header of another folder'
spoiled 'up an arrow within store' src/store/yaml/a.c '#include "../survey/survey_keep.h"' 'store/yaml may not know survey'
spoiled 'out of store by the back door' src/store/yaml/a.c '#include "../../house/tree.h"' 'a private header of another folder'
spoiled 'loose in a folder of folders' src/store/a.c 'int a;' 'a folder that the arrows do not name'
spoiled 'a folder nobody knows within store' src/store/attic/a.c 'int a;' 'a folder that the arrows do not name'
spoiled 'along an arrow within store' src/store/survey/a.c '#include "../yaml/tree.h"' fine
spoiled 'a folder nobody knows' src/attic/a.c 'int a;' 'a folder that the arrows do not name'
spoiled 'the sink writes' src/base/sink.c '#include <unistd.h>' fine
spoiled 'the commands exit' src/commands/a.c 'exit(fprintf(stderr, "x"));' fine
spoiled 'words in texts and comments' src/house/a.c 'f("exit FILE", '\''"'\''); /* stderr */ // time' fine
spoiled 'memory is formatted' src/assess/a.c 'snprintf(text, 3, "x");' fine

hold "$top"
