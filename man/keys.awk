# The table of requests (include/tundish/walk/requests.h) -> the KEYS section of the man page.
# tests/e2e/man.sh holds the page to it.

/^\tX\(/ {
	count = 0
	rest = $0
	while (match(rest, /"[^"]*"/)) {
		text[++count] = substr(rest, RSTART + 1, RLENGTH - 2)
		rest = substr(rest, RSTART + RLENGTH)
	}
	keys = text[1]
	help = toupper(substr(text[4], 1, 1)) substr(text[4], 2)
	sub(/ *\.\.\.$/, " and so on", help)
	printf ".It %s\n%s.\n", keys, help
}
