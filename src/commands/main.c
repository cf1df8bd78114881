/* The program: reads the command line, lands where memory runs out, hands over to the command. */
#include <signal.h>
#include <stdio.h>

#include "commands/help.h"
#include "commands/invocation.h"

static int run(struct arena *arena, int argc, char **argv)
{
	struct invocation invocation;
	int status = invocation_read(&invocation, arena, argc, argv);

	if (status != 0)
		return status;
	if (invocation.wants_version)
		return help_print_version(&invocation);
	if (invocation.wants_help)
		return help_print(&invocation);
	if (invocation.command == NULL)
		return complain("a command is wanted; see `wetside --help`");
	return invocation.command->run(&invocation);
}

int main(int argc, char **argv)
{
	struct landing landing;
	struct arena arena;
	volatile int status = 2;

	signal(SIGPIPE, SIG_IGN); /* a reader that went away shows as an error of the write */
	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0)
		status = run(&arena, argc, argv);
	else
		complain("there is not enough memory");
	arena_release(&arena);
	return status;
}
