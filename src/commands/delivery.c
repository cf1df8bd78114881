#include "commands/delivery.h"

#include <string.h>

#include "commands/invocation.h"
#include "support/utf8.h"

int delivery_to_standard_output(struct arena *arena, struct text text)
{
	struct output output;

	output_open_standard(&output, arena);
	output_write(&output, text);
	return delivery_end(arena, &output, TEXT("-"));
}

int delivery_to_file(struct arena *arena, struct text path, struct text text, bool is_executable)
{
	struct output output;

	output_open_file(&output, arena, path, is_executable);
	output_write(&output, text);
	return delivery_end(arena, &output, path);
}

int delivery_end(struct arena *arena, struct output *output, struct text path)
{
	int error = output_commit(output); /* before anything that could fail with the file unnamed */
	struct text shown;

	output_drop(output);
	if (error == 0)
		return 0;
	if (output->kind == OUTPUT_STREAM)
		return complain("cannot write to standard output: %s", strerror(error));
	shown = utf8_harmless(arena, path);
	return complain("cannot write `%.*s`: %s", TEXT_ARGUMENT(shown), strerror(error));
}
