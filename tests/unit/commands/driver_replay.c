/* Gives files to one of the fuzzers, as a fuzzer would: driver_replay fuzz_log FILE … */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FUZZERS(X) X(fuzz_log) X(fuzz_lsp) X(fuzz_made) X(fuzz_parse) X(fuzz_recipe) X(fuzz_rows)

#define DECLARE(name) int name##_one(const uint8_t *bytes, size_t length);
FUZZERS(DECLARE)

static const struct {
	const char *name;
	int (*one)(const uint8_t *bytes, size_t length);
} fuzzers[] = {
#define ROW(name) { #name, name##_one },
	FUZZERS(ROW)
};

/* Room of exactly the file's length, so that a sanitizer sees who reads beyond it. */
static int replay(int (*one)(const uint8_t *bytes, size_t length), const char *path)
{
	FILE *file = fopen(path, "rb");
	uint8_t *bytes;
	long length;

	if (file == NULL || fseek(file, 0, SEEK_END) != 0 || (length = ftell(file)) <= 0 ||
	    fseek(file, 0, SEEK_SET) != 0 || (bytes = malloc((size_t)length)) == NULL)
		return 2;
	if (fread(bytes, 1, (size_t)length, file) != (size_t)length)
		return 2;
	fclose(file);
	fprintf(stderr, "%s\n", path);
	one(bytes, (size_t)length);
	free(bytes);
	return 0;
}

int main(int argc, char **argv)
{
	for (size_t i = 0; argc > 1 && i < sizeof(fuzzers) / sizeof(*fuzzers); i++) {
		if (strcmp(fuzzers[i].name, argv[1]) != 0)
			continue;
		for (int file = 2; file < argc; file++)
			if (replay(fuzzers[i].one, argv[file]) != 0)
				return 2;
		return 0;
	}
	fprintf(stderr, "driver_replay FUZZER FILE …\n");
	return 2;
}
