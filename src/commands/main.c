/* The program: reads the command line, lands where memory runs out, hands over to the command. */
#include <signal.h>
#include <stdio.h>

#include "commands/help.h"
#include "commands/invocation.h"
#include "support/output.h"

/* Signals that end a program, and whose handler can clean up before. */
static const int ending_signals[] = { SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGXCPU };

/* The signal is blocked while it is handled: raised anew, it ends the program as soon as the handler does. It gets its
 * common effect back only here: with SA_RESETHAND a second one could end the program before the handler has begun. */
static void clean_up(int signal_number)
{
	output_abandon();
	signal(signal_number, SIG_DFL);
	raise(signal_number);
}

/* What is ignored from the start (nohup, a job in the background) stays ignored. */
static void handle_signals(void)
{
	struct sigaction action = { .sa_handler = clean_up };
	struct sigaction found;

	sigfillset(&action.sa_mask);
	for (size_t i = 0; i < sizeof ending_signals / sizeof *ending_signals; i++)
		if (sigaction(ending_signals[i], NULL, &found) == 0 && found.sa_handler == SIG_DFL)
			sigaction(ending_signals[i], &action, NULL);
	signal(SIGPIPE, SIG_IGN); /* a reader that went away shows as an error of the write */
	signal(SIGXFSZ, SIG_IGN); /* and so does a file that may grow no larger */
}

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

	handle_signals();
	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0)
		status = run(&arena, argc, argv);
	else
		complain("there is not enough memory");
	output_abandon();
	arena_release(&arena);
	return status;
}
