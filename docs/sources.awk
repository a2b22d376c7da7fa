# Makes docs/sources.md of what `tundish rules --standing published`, `... memory` and `... common_practice` print,
# one after the other. UPDATE_GOLDEN=1 meson test -C build e2e_sources writes it anew.
#
# A source is text: "Document (edition), clause; another document, clause". What is the document's name and what the
# clause is told here; a document that is not named below is what stands before the first comma.

function title(text, long) {
	titles[++title_count] = text
	long_title[title_count] = long ? long : text
}

BEGIN {
	RS = ""
	FS = "\n"
	title("SI 1999/1148", "Water Supply (Water Fittings) Regulations 1999 (SI 1999/1148)")
	title("SR 2009/255", "Water Supply (Water Fittings) Regulations (Northern Ireland) 2009 (SR 2009/255)")
	title("Guidance to the Regulations (1999)")
	title("Guidance clause", "Guidance to the Regulations (1999)")
	title("Water Supply Industry Interpretations")
	title("Water Supply Industry Interpretation", "Water Supply Industry Interpretations")
	title("Installation Requirements and Notes")
	title("Regulators' Specification")
	title("Water Regs UK")
	title("Approved Installation Method AIM-08-01")
}

# What has a number of its own: B34, E05, WQ11; R160.
function codes(text, list) {
	list = ""
	while (match(text, /(^|[^A-Za-z0-9])[A-Z][A-Z]?[0-9]+/)) {
		code = substr(text, RSTART, RLENGTH)
		sub(/^[^A-Z]/, "", code)
		list = list (list ? "; " : "") code
		text = substr(text, RSTART + RLENGTH)
	}
	return list
}

# Where the piece begins with a title that is known, its index.
function known(piece, i) {
	for (i = 1; i <= title_count; i++)
		if (index(piece, titles[i]) == 1)
			return i
	return 0
}

# "BS EN 13959:2004", "BS EN 12729 as given by ...": the number ends the name.
function standard_length(piece) {
	return match(piece, /^(BS )?(EN|HSG) ?[0-9]+(-[0-9]+)?( Part [0-9]+)?/) ? RLENGTH : 0
}

function year(text) {
	if (match(text, /[:( ](19|20)[0-9][0-9]([)\/ ]|$)/))
		return substr(text, RSTART + 1, 4)
	return "not said"
}

# Sets document, edition and clause.
function take_apart(piece, i, n) {
	i = known(piece)
	n = standard_length(piece)
	if (i) {
		document = long_title[i]
		clause = substr(piece, length(titles[i]) + 1)
	} else if (n) {
		document = substr(piece, 1, n)
		clause = substr(piece, n + 1)
	} else {
		n = index(piece, ",")
		document = n ? substr(piece, 1, n - 1) : piece
		clause = n ? substr(piece, n) : ""
	}
	edition = year(document)
	if (match(clause, /^:[0-9]+/)) {
		edition = substr(clause, 2, RLENGTH - 1)
		clause = substr(clause, RLENGTH + 1)
	}
	sub(/ \(secondary\)/, "", document)
	gsub(/ \([a-z][^)][^)][^)]*\)/, "", clause)
	sub(/, (on|by) [^;]*$/, "", clause) # what of it is meant, in words
	sub(/^[, ]+/, "", clause)
	if (document ~ /Interpretations$|Notes$/)
		clause = codes(clause)
}

# Each clause once, in the order of the letters.
function add_clauses(document, clause, part, n, i) {
	n = split(clause, part, "; ")
	for (i = 1; i <= n; i++) {
		if (part[i] == "" || (document, part[i]) in has_clause)
			continue
		has_clause[document, part[i]] = 1
		clauses[document, ++clause_count[document]] = part[i]
	}
}

function sorted_clauses(document, i, j, held, text) {
	for (i = 2; i <= clause_count[document]; i++) {
		held = clauses[document, i]
		for (j = i - 1; j > 0 && clauses[document, j] > held; j--)
			clauses[document, j + 1] = clauses[document, j]
		clauses[document, j + 1] = held
	}
	for (i = 1; i <= clause_count[document]; i++)
		text = text (i > 1 ? "; " : "") clauses[document, i]
	return text ? text : "as a whole"
}

function cite(piece, rows, cited) {
	sub(/^against it /, "", piece)
	if (piece ~ /^[BEI][0-9]+/)
		piece = "Water Supply Industry Interpretation " piece
	piece = toupper(substr(piece, 1, 1)) substr(piece, 2)
	take_apart(piece)
	add_clauses(document, clause)
	if (edition != "not said" || !(document in edition_of))
		edition_of[document] = edition
	if (document in cited)
		return
	cited[document] = 1
	of[document, standing] += rows
	if (standing == "published" && piece ~ /secondary|as given|as quoted|as reported|^Trade page/)
		second_hand[document] += rows
}

# The heading of one of the lists.
/^Of standing / {
	standing = $0
	sub(/^Of standing /, "", standing)
	sub(/, .*/, "", standing)
	standing = tolower(standing)
	sub(/.*: /, "", $0)
	total[standing] = $0
	next
}

# A source: lines at the left edge, then its rows, each of which begins with two blanks.
{
	source = ""
	rows = 0
	for (i = 1; i <= NF; i++) {
		if ($i !~ /^ /)
			source = source (source ? " " : "") $i
		else if ($i ~ /^  [^ ]/)
			rows++
	}
	listed[standing] += rows
	gsub(/, and B/, "; B", source)
	gsub(/, and answer/, "; Water Regs UK, answer", source)
	gsub(/Water Regs UK glossary/, "Water Regs UK, glossary", source)
	count = split(source, pieces, "; ")
	split("", cited)
	for (i = 1; i <= count && standing != "common practice"; i++)
		cite(pieces[i], rows, cited)
}

function how_seen(document, text) {
	if (of[document, "published"])
		text = of[document, "published"] " published"
	if (second_hand[document])
		text = text (second_hand[document] == of[document, "published"] ? " (second hand)" : \
		             " (" second_hand[document] " second hand)")
	if (of[document, "memory"])
		text = text (text ? ", " : "") of[document, "memory"] " **memory**"
	return text
}

END {
	for (s in total) {
		if (listed[s] != total[s]) {
			print "of " s " " total[s] " were promised and " listed[s] " read" >"/dev/stderr"
			exit 1
		}
	}
	print "# Where the rulebook has it from\n"
	print "Made of the rulebook by `docs/sources.awk`, and compared with it by the test `e2e_sources`: not written by hand. A row (or a type) that"
	print "names two documents counts for each. *Published*: the author of the row saw the text; *second hand*: in another's copy or quotation;"
	print "**memory**: recalled and yet to be checked against the document, which `tundish rules --standing memory` lists row by row.\n"
	print "Rows and types: " total["published"] " published, " total["memory"] " memory, " total["common practice"] \
	      " common practice of the trade, which has no source.\n"
	print "| Document | Edition | Cited | Rows | How seen |"
	print "| --- | --- | --- | --- | --- |"
	sorted = "LC_ALL=C sort"
	for (document in edition_of)
		printf "| %s | %s | %s | %d | %s |\n", document, edition_of[document], sorted_clauses(document), \
		       of[document, "published"] + of[document, "memory"], how_seen(document) | sorted
	close(sorted)
}
