/* Children and the pipes on which they speak. */
#include "commands/jobs.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/utf8.h"

#define STREAMS 2 /* standard output, standard error */
#define PIECE 4096

static const int streams[STREAMS] = { STDOUT_FILENO, STDERR_FILENO };

struct child {
	pid_t pid;
	int descriptors[STREAMS];	    /* -1: at its end */
	struct text_builder heard[STREAMS]; /* before its turn to be said */
	int status;			    /* as waitpid tells it */
	bool is_done;
};

struct pool {
	const struct invocation *invocation;
	const struct jobs *jobs;
	struct child *children; /* one for each piece of work */
	size_t started, said;	/* pieces; what is between them is running or waits for its turn */
	size_t running;
	int worst;
	bool is_deaf; /* standard output takes no more */
};

static void note_status(struct pool *pool, int status)
{
	if (status > pool->worst)
		pool->worst = status;
}

/* ---- a child ---- */

static void close_if_open(int *descriptor)
{
	if (*descriptor >= 0)
		close(*descriptor);
	*descriptor = -1;
}

/* In the child: only its own pipes stay open, so that a reader that goes away is noticed. */
_Noreturn static void be_child(const struct pool *pool, size_t index, const int *ends)
{
	int status;

	for (size_t i = pool->said; i < index; i++)
		for (size_t stream = 0; stream < STREAMS; stream++)
			close_if_open(&pool->children[i].descriptors[stream]);
	for (size_t stream = 0; stream < STREAMS; stream++) {
		if (dup2(ends[stream], streams[stream]) < 0)
			_exit(2);
		close(ends[stream]);
	}
	status = pool->jobs->work(index, pool->jobs->data);
	fflush(NULL);
	_exit(status);
}

/* Opens a pipe for each stream; -1 in all where that fails. */
static bool open_pipes(int *reading, int *writing)
{
	for (size_t stream = 0; stream < STREAMS; stream++)
		reading[stream] = writing[stream] = -1;
	for (size_t stream = 0; stream < STREAMS; stream++) {
		int ends[2];

		if (pipe(ends) != 0) {
			for (size_t i = 0; i < stream; i++) {
				close_if_open(&reading[i]);
				close_if_open(&writing[i]);
			}
			return false;
		}
		reading[stream] = ends[0];
		writing[stream] = ends[1];
	}
	return true;
}

/* False where no child can be had now. */
static bool start_child(struct pool *pool)
{
	struct child *child = &pool->children[pool->started];
	int writing[STREAMS];

	if (!open_pipes(child->descriptors, writing))
		return false;
	for (size_t stream = 0; stream < STREAMS; stream++)
		child->heard[stream] = text_builder_start(pool->invocation->arena);
	child->pid = fork();
	if (child->pid == 0) {
		for (size_t stream = 0; stream < STREAMS; stream++)
			close_if_open(&child->descriptors[stream]);
		be_child(pool, pool->started, writing);
	}
	for (size_t stream = 0; stream < STREAMS; stream++) {
		close(writing[stream]);
		if (child->pid < 0)
			close_if_open(&child->descriptors[stream]);
	}
	if (child->pid < 0)
		return false;
	pool->started++;
	pool->running++;
	return true;
}

/* ---- what it says ---- */

/* Passes bytes on, or says once that nobody takes them. */
static void say(struct pool *pool, size_t stream, struct text text)
{
	while (text.length > 0 && !(stream == 0 && pool->is_deaf)) {
		ssize_t taken = write(streams[stream], text.data, text.length);

		if (taken > 0) {
			text.data += taken;
			text.length -= (size_t)taken;
		} else if (taken < 0 && errno == EAGAIN) {
			struct pollfd ready = { .fd = streams[stream], .events = POLLOUT };

			poll(&ready, 1, -1);
		} else if (taken == 0 || errno != EINTR) {
			if (stream != 0)
				return; /* nobody can be told */
			pool->is_deaf = true;
			note_status(pool, complain("cannot write to standard output: %s", strerror(errno)));
		}
	}
}

static void say_heard(struct pool *pool, struct child *child)
{
	for (size_t stream = 0; stream < STREAMS; stream++) {
		say(pool, stream, (struct text){ child->heard[stream].data, child->heard[stream].length });
		child->heard[stream].length = 0;
	}
}

static void hear(struct child *child, size_t stream)
{
	char piece[PIECE];
	ssize_t length = read(child->descriptors[stream], piece, sizeof(piece));

	if (length > 0)
		text_append(&child->heard[stream], (struct text){ piece, (size_t)length });
	else if (length == 0 || errno != EINTR)
		close_if_open(&child->descriptors[stream]);
}

static void wait_for(struct pool *pool, struct child *child)
{
	pid_t ended;

	do
		ended = waitpid(child->pid, &child->status, 0);
	while (ended < 0 && errno == EINTR);
	child->is_done = true;
	pool->running--;
}

static void judge(struct pool *pool, size_t index)
{
	const struct child *child = &pool->children[index];
	struct text subject;

	if (WIFEXITED(child->status)) {
		note_status(pool, WEXITSTATUS(child->status));
		return;
	}
	subject = utf8_harmless(pool->invocation->arena, pool->jobs->subject(index, pool->jobs->data));
	note_status(pool, complain("the work on `%.*s` was ended by signal %d (%s)", TEXT_ARGUMENT(subject),
				   WTERMSIG(child->status), strsignal(WTERMSIG(child->status))));
}

/* Says what those whose turn it is have said. */
static void say_in_turn(struct pool *pool)
{
	while (pool->said < pool->started) {
		struct child *child = &pool->children[pool->said];

		say_heard(pool, child);
		if (!child->is_done)
			return;
		judge(pool, pool->said);
		pool->said++;
	}
}

/* Waits until one of the children speaks or ends. */
static void listen_to_all(struct pool *pool, struct pollfd *polled)
{
	nfds_t count = 0;

	for (size_t i = pool->said; i < pool->started; i++)
		for (size_t stream = 0; stream < STREAMS; stream++)
			if (pool->children[i].descriptors[stream] >= 0)
				polled[count++] = (struct pollfd){ .fd = pool->children[i].descriptors[stream],
								   .events = POLLIN };
	poll(polled, count, -1);
	count = 0;
	for (size_t i = pool->said; i < pool->started; i++) {
		struct child *child = &pool->children[i];

		for (size_t stream = 0; stream < STREAMS; stream++)
			if (child->descriptors[stream] >= 0 && polled[count++].revents != 0)
				hear(child, stream);
		if (!child->is_done && child->descriptors[0] < 0 && child->descriptors[1] < 0)
			wait_for(pool, child);
	}
}

/* ---- all of them ---- */

static int run_in_turn(const struct jobs *jobs, size_t first)
{
	int worst = 0;

	for (size_t i = first; i < jobs->count; i++) {
		int status = jobs->work(i, jobs->data);

		worst = status > worst ? status : worst;
	}
	return worst;
}

int jobs_run(const struct invocation *invocation, const struct jobs *jobs)
{
	struct arena *arena = invocation->arena;
	struct pool pool = { .invocation = invocation, .jobs = jobs };
	struct pollfd *polled;

	if (invocation->jobs <= 1 || jobs->count <= 1)
		return run_in_turn(jobs, 0);
	pool.children = ARENA_ARRAY(arena, struct child, jobs->count);
	polled = ARENA_ARRAY(arena, struct pollfd, STREAMS * invocation->jobs);
	for (;;) {
		while (pool.running < invocation->jobs && pool.started < jobs->count && start_child(&pool))
			;
		if (pool.running == 0)
			break;
		listen_to_all(&pool, polled);
		say_in_turn(&pool);
	}
	if (pool.started < jobs->count) /* no child can be had: without them it takes longer */
		note_status(&pool, run_in_turn(jobs, pool.started));
	return pool.worst;
}
