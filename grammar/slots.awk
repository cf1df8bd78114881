# Makes a hash table of src/syntax/words.def or of src/syntax/units.def, so that none is built when the program starts.
# To be run under LC_ALL=C, where a character is a byte. The slots are those of syntax/slots.h, whose function this one
# repeats; the unit tests look every spelling up.

function hash(word,   count) {
	count = length(word)
	return (byte[substr(word, 1, 1)] * 7 + byte[substr(word, int(count / 2) + 1, 1)] * 61 + \
		byte[substr(word, count, 1)] * 131 + count * 17) % 512
}

# A row in the slot of a word, or in the first free one behind it.
function put(word, row,   slot) {
	slot = hash(word)
	while (slot in rows)
		slot = (slot + 1) % 512
	rows[slot] = row
}

BEGIN {
	for (i = 1; i < 256; i++)
		byte[sprintf("%c", i)] = i
}

match($0, /^WORD\([a-z0-9_]+, "[^"]+"/) {
	row = substr($0, 6, RLENGTH - 6)
	type = "unsigned char word_slots"
	put(substr(row, index(row, "\"") + 1), "WORD_" substr(row, 1, index(row, ",") - 1) " + 1")
}

/^UNIT\(/ {
	id = substr($0, 6, index($0, ",") - 6)
	type = "struct unit_slot unit_slots"
	match($0, /"[^"]*"\)$/)
	count = split(substr($0, RSTART + 1, RLENGTH - 3), spelling, " ")
	place = 0
	for (i = 1; i <= count; i++) {
		put(spelling[i], "{ UNIT_" id ", " place ", " length(spelling[i]) " }")
		place += length(spelling[i]) + 1
	}
}

END {
	print "/* Made from " FILENAME " by grammar/slots.awk. */"
	print "static const " type "[512] = {"
	for (slot = 0; slot < 512; slot++)
		if (slot in rows)
			print "\t[" slot "] = " rows[slot] ","
	print "};"
}
