# The table of requests (include/tundish/walk/requests.h) -> the KEYS section of the man page.
# tests/e2e/man.sh holds the page to it.

# A row may go over several lines; strings that stand side by side are one.
/^\tX\(/ {
	row = ""
	on = 1
}

on {
	line = $0
	sub(/ *\\$/, "", line)
	row = row line
	if (line ~ /\)$/) {
		on = 0
		print_row(row)
	}
}

function print_row(rest, count, text, between, help)
{
	count = 0
	while (match(rest, /"[^"]*"/)) {
		between = substr(rest, 1, RSTART - 1)
		if (between ~ /,/)
			text[++count] = ""
		text[count] = text[count] substr(rest, RSTART + 1, RLENGTH - 2)
		rest = substr(rest, RSTART + RLENGTH)
	}
	help = toupper(substr(text[4], 1, 1)) substr(text[4], 2)
	sub(/ *\.\.\.$/, " and so on", help)
	if (help != "")
		printf ".It %s\n%s.\n", text[1], help
}
