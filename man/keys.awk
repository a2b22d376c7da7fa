# The table of requests (include/tundish/walk/requests.h) -> the KEYS section of the man page: the keys, the plain word, what
# it does. tests/e2e/man.sh holds the page to it.

# A row may go over several lines; the last ends with its parenthesis.
/^\tX\(/ {
	row = ""
	in_row = 1
}

in_row {
	row = row $0
	if ($0 ~ /"\)[ \t]*\\?$/) {
		in_row = 0
		print_row(row)
	}
}

function print_row(row, count, text, help, piece, last) {
	count = last = 0
	while (match(row, /"[^"]*"/)) {
		piece = substr(row, RSTART + 1, RLENGTH - 2)
		# texts with nothing but blanks between them are one
		if (count > 0 && substr(row, 1, RSTART - 1) ~ /^[ \t\\]*$/)
			text[count] = text[count] piece
		else
			text[++count] = piece
		row = substr(row, RSTART + RLENGTH)
	}
	help = toupper(substr(text[4], 1, 1)) substr(text[4], 2)
	sub(/ *\.\.\.$/, " and so on", help)
	printf ".It %s%s\n%s.\n", text[1], text[2] == "" ? "" : " Pq Cm " text[2], help
}
