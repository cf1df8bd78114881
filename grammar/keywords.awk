# Makes what bison reads of src/syntax/words.def, grammar/wetside.y and what that asks for, in this order of arguments.
# A line that begins with `@` is replaced:
#   @tokens        a token for each word, in the order of the rows
#   : @any_word    all these tokens, as alternatives of a rule
#   @include FILE  the lines of a file beside the grammar
# `#line` lines say where each line comes from, so that what bison and the compiler say points there.

function at(line, path) { printf "#line %d \"%s\"\n", line, path }

FILENAME ~ /\.def$/ {
	if (match($0, /^WORD\([a-z0-9_]+, "[^"]+"/)) {
		row = substr($0, 6, RLENGTH - 5)
		count++
		place[count] = FNR
		token[count] = "W_" toupper(substr(row, 1, index(row, ",") - 1))
		spelling[count] = substr(row, index(row, ",") + 2)
	}
	words = FILENAME
	next
}

FNR == 1 {
	folder = FILENAME
	sub(/[^\/]*$/, "", folder)
	at(1, FILENAME)
}

/^@tokens$/ {
	for (i = 1; i <= count; i++) {
		at(place[i], words)
		print "%token " token[i] " " spelling[i]
	}
	at(FNR + 1, FILENAME)
	next
}

/^ *: @any_word$/ {
	for (i = 1; i <= count; i++) {
		at(place[i], words)
		print "        " (i == 1 ? ": " : "| ") token[i]
	}
	at(FNR + 1, FILENAME)
	next
}

/^@include / {
	path = folder $2
	at(1, path)
	while ((status = (getline line < path)) > 0)
		print line
	if (status < 0) {
		print "keywords.awk: cannot read " path >"/dev/stderr"
		exit 1
	}
	at(FNR + 1, FILENAME)
	next
}

{ print }
