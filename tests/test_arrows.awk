# Reads C files and holds their #include lines and words against the arrows of the house (DEVELOPERS.md, "The house").
# Variable root: the folder that all file names begin with. Prints each breach; exits 1 if there is one.

BEGIN {
	# folder -> the folders whose public headers it may include
	may["base"] = "base"
	may["assess"] = "assess base"
	may["house"] = "house assess base"
	may["rulebook"] = "base"
	may["teach"] = "teach house assess base"
	may["invent"] = "invent assess base"
	may["store"] = "store teach assess base"
	may["print"] = "print teach house assess base"
	may["walk"] = "walk teach house assess base"
	may["screen"] = "screen walk house assess base"
	may["plain"] = "plain walk house assess base"
	may["commands"] = "commands plain screen walk print store invent teach house assess base"

	# a folder within a folder -> its neighbours there whose private headers it may include, as "../NEIGHBOUR/NAME.h"
	inner["store/yaml"] = inner["store/files"] = ""
	inner["store/splice"] = inner["store/rulebook"] = "yaml"
	inner["store/survey"] = "splice yaml"
	inner["store/chain"] = "yaml"
	inner["store/quiz"] = "yaml files"
	for (i in inner) {
		sub(/\/.*/, "", i)
		parted[i] = 1
	}

	# header -> the only folders that may include it
	only["yaml.h"] = "store"
	only["jansson.h"] = "store"
	only["sodium.h"] = "store"
	only["curses.h"] = only["ncurses.h"] = only["term.h"] = "screen"
	only["utf8proc.h"] = "base"
	only["getopt.h"] = "commands"

	# What is pure knows no file, clock, locale or environment; of base, only the sink writes.
	pure["base"] = pure["assess"] = pure["house"] = pure["teach"] = pure["invent"] = 1
	split("time.h sys/time.h locale.h langinfo.h unistd.h fcntl.h sys/stat.h errno.h signal.h", list, " ")
	for (i in list)
		impure[list[i]] = 1
	sink_may["unistd.h"] = sink_may["errno.h"] = 1
	split("FILE fopen fdopen printf fprintf vfprintf fputs puts putchar scanf fgets stdin stdout time clock " \
	      "localtime gmtime getenv setlocale", list, " ")
	for (i in list)
		impure_word[list[i]] = 1

	# What only the commands may do.
	split("exit abort perror stderr", list, " ")
	for (i in list)
		commands_word[list[i]] = 1
}

FNR == 1 {
	file = substr(FILENAME, length(root) + 2)
	folder = within = file
	sub(/^include\/tundish\//, "", folder)
	sub(/^src\//, "", folder)
	if (!sub(/\/.*/, "", folder))
		folder = "commands" # src/main.c
	sub(/^src\//, "", within)
	sub(/\/[^\/]*$/, "", within)
	in_comment = 0
	files++
	if (!(folder in may) || (file ~ /^src\// && (folder in parted || within ~ /\//) && !(within in inner)))
		breach("is in a folder that the arrows do not name")
}

function breach(what) {
	printf "%s:%d: %s\n", file, FNR, what
	breaches++
}

function has(words, word) {
	return index(" " words " ", " " word " ") > 0
}

function included(text, name) {
	name = text
	sub(/^[ \t]*#[ \t]*include[ \t]*[<"]/, "", name)
	sub(/[>"].*/, "", name)
	includes++
	if (text ~ /</) {
		if (name in only && !has(only[name], folder))
			breach("only " only[name] " may include <" name ">")
		if (pure[folder] && name in impure && !(file == "src/base/sink.c" && name in sink_may))
			breach(folder " may not include <" name ">")
	} else if (name ~ /^tundish\//) {
		sub(/^tundish\//, "", name)
		sub(/\/.*/, "", name)
		if (!has(may[folder], name))
			breach(folder " may not know " name)
	} else if (name ~ /^\.\.\/[a-z]+\/[^\/]*$/ && within in inner) {
		split(name, part, "/")
		if (!has(inner[within], part[2]))
			breach(within " may not know " part[2])
	} else if (name ~ /\// && file != "src/main.c") {
		breach("a private header of another folder: " name)
	}
}

# The line without comments and texts.
function code(line, out, at) {
	out = ""
	while (line != "") {
		if (in_comment) {
			at = index(line, "*/")
			if (!at)
				return out
			line = substr(line, at + 2)
			in_comment = 0
		} else if (match(line, /^[^"'\/]+/)) {
			out = out substr(line, 1, RLENGTH)
			line = substr(line, RLENGTH + 1)
		} else if (match(line, /^"([^"\\]|\\.)*"/) || match(line, /^'([^'\\]|\\.)*'/)) {
			line = substr(line, RLENGTH + 1)
		} else if (line ~ /^\/\//) {
			return out
		} else if (line ~ /^\/\*/) {
			in_comment = 1
			line = substr(line, 3)
		} else {
			line = substr(line, 2)
		}
	}
	return out
}

!in_comment && /^[ \t]*#[ \t]*include/ {
	included($0)
	next
}

{
	text = code($0)
	gsub(/format\(printf/, "", text) # the attribute of our own functions
	gsub(/[^A-Za-z0-9_]/, " ", text)
	count = split(text, word, " ")
	for (i = 1; i <= count; i++) {
		if (pure[folder] && word[i] in impure_word)
			breach(folder " may not use " word[i])
		if (folder != "commands" && folder != "rulebook" && word[i] in commands_word)
			breach("only commands may use " word[i])
	}
}

END {
	if (!includes) {
		print "no #include was read: nothing was tested"
		exit 1
	}
	printf "files %d, includes %d, breaches %d\n", files, includes, breaches
	exit breaches > 0
}
