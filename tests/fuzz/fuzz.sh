#!/bin/sh
# Fuzz one target with clang's libFuzzer, from its corpus on.
#
#     tests/fuzz/fuzz.sh survey|rulebook|journal|chain|quiz|reviews|invent [SECONDS] [FOLDER]
#
# FOLDER (default: a new one below the system's folder for temporary files) keeps what is found from one run to the next.
set -eu
target=$1
seconds=${2:-60}
top=$(cd "$(dirname "$0")/../.." && pwd)
work=${3:-$(mktemp -d)}
mkdir -p "$work/found"

cc=${CC:-clang}
"$cc" -D_XOPEN_SOURCE=700 "$top/src/rulebook/embed.c" -o "$work/embed"
"$work/embed" "$work/texts.c" "$work/texts.d" "$top/src/rulebook"
"$cc" -std=c11 -D_XOPEN_SOURCE=700 -DTUNDISH_TESTS="\"$top/tests\"" -DTUNDISH_ARENA_MALLOC -g -O1 \
	-fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all -I"$top/include" \
	"$top/tests/fuzz/fuzz_$target.c" "$work/texts.c" "$top"/src/base/*.c "$top"/src/assess/*.c "$top"/src/store/*/*.c "$top"/src/invent/*.c \
	"$top/src/teach/task.c" "$top/src/teach/quiz_file.c" -lyaml -ljansson -lsodium -lutf8proc -o "$work/fuzz_$target"
cd "$work"
"./fuzz_$target" -max_total_time="$seconds" -timeout=5 -max_len=16384 -rss_limit_mb=2048 -artifact_prefix="$work/" \
	"$work/found" "$top/tests/fuzz/corpus/$target"
