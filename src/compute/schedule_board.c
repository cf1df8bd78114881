/* The board: what is placed, the hands' time and what is in use, and where a job's next tasks fit at the earliest. */
#include "compute/schedule_parts.h"

#include <string.h>

/* ---- the hands ---- */

/* The first of the busy times that end later than a time. */
static size_t first_after(const struct busy *busy, size_t count, int64_t time_s)
{
	size_t low = 0;

	for (size_t high = count; low < high;) {
		size_t middle = low + (high - low) / 2;

		if (busy[middle].end_s > time_s)
			high = middle;
		else
			low = middle + 1;
	}
	return low;
}

int64_t free_from(const struct busy *busy, size_t count, int64_t time_s, int64_t duration_s, size_t *steps)
{
	size_t i = first_after(busy, count, time_s);

	*steps += 4;
	for (; i < count && busy[i].start_s < add_up(time_s, duration_s); i++, *steps += 1)
		time_s = busy[i].end_s;
	return time_s;
}

static void take_hands(struct board *board, int64_t start_s, int64_t end_s)
{
	size_t place = first_after(board->hands, board->hands_count, start_s);

	memmove(&board->hands[place + 1], &board->hands[place], (board->hands_count - place) * sizeof board->hands[0]);
	board->hands[place] = (struct busy){ start_s, end_s };
	board->hands_count++;
	toil_count(board->toil, 1 + (board->hands_count - place) / 16);
}

static void free_hands(struct board *board, int64_t start_s)
{
	size_t place = first_after(board->hands, board->hands_count, start_s);

	board->hands_count--;
	memmove(&board->hands[place], &board->hands[place + 1], (board->hands_count - place) * sizeof board->hands[0]);
}

/* ---- things in use ---- */

/* The level that holds at a time: the last that begins at it or before. There is always one, from the beginning. */
static size_t level_at(const struct usage *usage, int64_t time_s)
{
	size_t low = 0;

	for (size_t high = usage->count; high - low > 1;) {
		size_t middle = low + (high - low) / 2;

		if (usage->levels[middle].from_s <= time_s)
			low = middle;
		else
			high = middle;
	}
	return low;
}

static size_t split_level(struct board *board, struct usage *usage, int64_t time_s)
{
	size_t place = level_at(usage, time_s);

	if (usage->levels[place].from_s == time_s)
		return place;
	ARENA_RESERVE(board->flat->arena, usage->levels, usage->count, usage->capacity);
	place++;
	memmove(&usage->levels[place + 1], &usage->levels[place], (usage->count - place) * sizeof usage->levels[0]);
	usage->levels[place] = (struct level){ time_s, usage->levels[place - 1].used };
	usage->count++;
	return place;
}

/* Uses more from one time to another, SCHEDULE_NEVER for good; less where the amount is below 0. */
static void use(struct board *board, size_t resource, int64_t from_s, int64_t to_s, int64_t amount)
{
	struct usage *usage = &board->usages[resource];

	if (from_s >= to_s)
		return;
	size_t first = split_level(board, usage, from_s);
	size_t end = to_s == SCHEDULE_NEVER ? usage->count : split_level(board, usage, to_s);

	for (size_t i = first; i < end; i++)
		usage->levels[i].used += amount;
	toil_count(board->toil, end - first);
}

/* ---- the board ---- */

void board_init(struct board *board, const struct flat_problem *flat, struct toil *toil)
{
	size_t resources = flat->said->resource_count;

	*board = (struct board){ .flat = flat, .toil = toil };
	board->hands_capacity = flat->task_count + flat->break_count + 1;
	board->hands = ARENA_ARRAY(flat->arena, struct busy, board->hands_capacity);
	board->usages = ARENA_ARRAY(flat->arena, struct usage, resources + 1);
	board->at = ARENA_ARRAY(flat->arena, int64_t, flat->task_count + 1);
	board->placed = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	for (size_t r = 0; r < resources; r++) {
		board->usages[r].amount = flat->said->resources[r].amount;
		ARENA_RESERVE(flat->arena, board->usages[r].levels, 0, board->usages[r].capacity);
	}
	board_clear(board);
}

void board_clear(struct board *board)
{
	const struct flat_problem *flat = board->flat;

	board->hands_count = flat->break_count;
	if (flat->break_count > 0)
		memcpy(board->hands, flat->breaks, flat->break_count * sizeof flat->breaks[0]);
	for (size_t r = 0; r < flat->said->resource_count; r++) {
		board->usages[r].levels[0] = (struct level){ INT64_MIN, 0 };
		board->usages[r].count = 1;
	}
	for (size_t j = 0; j < flat->job_count; j++)
		board->placed[j] = flat->jobs[j].first;
}

static int64_t end_of(const struct board *board, size_t task)
{
	return board->at[task] + board->flat->tasks[task].duration_s;
}

/* When a claim ends, if tasks before `end` are placed or being placed; SCHEDULE_NEVER while that is open. */
static int64_t release_of(const struct board *board, const struct flat_claim *claim, size_t end)
{
	return claim->to < end ? end_of(board, claim->to) + claim->after_s : SCHEDULE_NEVER;
}

/* What the same job's other claims, those that begin before this one, add to the board's level at a time; and when that
 * first gets less. Those that begin in parts already placed and are open are on the board as if for good. */
static int64_t own_use(const struct board *board, const struct flat_job *job, size_t claim_index, size_t end,
		       int64_t time_s, int64_t *until_s)
{
	const struct flat_claim *claims = board->flat->claims;
	size_t placed = board->placed[board->flat->tasks[job->first].job];
	int64_t used = 0;

	for (size_t i = job->first_claim; i < claim_index; i++) {
		if (claims[i].resource != claims[claim_index].resource || claims[i].to < placed)
			continue;
		int64_t release_s = release_of(board, &claims[i], end);
		bool is_on_board = claims[i].from < placed;

		if (release_s > time_s && release_s < *until_s)
			*until_s = release_s;
		if (release_s > time_s && !is_on_board)
			used += claims[i].amount;
		else if (release_s <= time_s && is_on_board)
			used -= claims[i].amount;
	}
	return used;
}

/* Where a claim of tasks being placed would have to begin instead; where it begins, if it is free. */
static int64_t claim_from(struct board *board, const struct flat_job *job, size_t claim_index, size_t end)
{
	const struct flat_claim *claim = &board->flat->claims[claim_index];
	const struct usage *usage = &board->usages[claim->resource];
	int64_t from_s = board->at[claim->from];
	int64_t release_s = release_of(board, claim, end);
	size_t i = level_at(usage, from_s);

	for (; i < usage->count && usage->levels[i].from_s < release_s; i++) {
		int64_t time_s = usage->levels[i].from_s > from_s ? usage->levels[i].from_s : from_s;
		int64_t until_s = i + 1 < usage->count ? usage->levels[i + 1].from_s : SCHEDULE_NEVER;
		int64_t own = own_use(board, job, claim_index, end, time_s, &until_s);

		toil_count(board->toil, 1);
		if (time_s < release_s && usage->levels[i].used + own > usage->amount - claim->amount)
			return until_s;
	}
	return from_s;
}

/* The earliest start of a task that its waits, the hands and breaks allow, given the tasks before it. */
static int64_t earliest(struct board *board, size_t task_index, bool is_first)
{
	const struct flat_task *task = &board->flat->tasks[task_index];
	int64_t time_s = (is_first ? 0 : end_of(board, task_index - 1)) + task->wait_least_s;
	size_t steps = 1;

	if (board->at[task_index] > time_s)
		time_s = board->at[task_index];
	if (task->needs_hands)
		time_s = free_from(board->hands, board->hands_count, time_s, task->duration_s, &steps);
	else if (task->shuns_breaks)
		time_s = free_from(board->flat->breaks, board->flat->break_count, time_s, task->duration_s, &steps);
	toil_count(board->toil, steps);
	return time_s;
}

/* Starts as early as waits, hands and breaks allow, none before what `at` says already; a task too long after the one
 * before it pulls that one along. */
static enum placing settle(struct board *board, const struct flat_job *job, size_t task, size_t end)
{
	size_t first = board->placed[board->flat->tasks[job->first].job];

	while (task < end) {
		const struct flat_task *now = &board->flat->tasks[task];
		int64_t time_s = earliest(board, task, task == job->first);

		if (time_s > now->latest_end_s - now->duration_s)
			return PLACING_TOO_LATE;
		board->at[task] = time_s;
		if (now->wait_most_s == SCHEDULE_NEVER || task == job->first ||
		    time_s - end_of(board, task - 1) <= now->wait_most_s) {
			task++;
		} else if (task == first) {
			return PLACING_MISSED;
		} else {
			task--;
			board->at[task] = time_s - now->wait_most_s - board->flat->tasks[task].duration_s;
		}
	}
	return PLACING_DONE;
}

enum placing board_find(struct board *board, size_t job_index, size_t end)
{
	const struct flat_problem *flat = board->flat;
	const struct flat_job *job = &flat->jobs[job_index];
	size_t first = board->placed[job_index];
	enum placing placing;

	for (size_t k = first; k < end; k++)
		board->at[k] = flat->tasks[k].head_s;
	for (size_t a = 0; first == job->first && a < job->said->after_count; a++) {
		const struct flat_job *before = &flat->jobs[job->said->after[a]];
		int64_t end_s = end_of(board, before->first + job->said->after_task[a]);

		if (end_s > board->at[first])
			board->at[first] = end_s;
	}
	placing = settle(board, job, first, end);
	for (size_t c = job->first_claim; placing == PLACING_DONE && c < job->end_claim; c++) {
		const struct flat_claim *claim = &flat->claims[c];

		if (claim->from < first || claim->from >= end)
			continue;
		int64_t from_s = claim_from(board, job, c, end);

		if (from_s == board->at[claim->from])
			continue;
		if (from_s == SCHEDULE_NEVER)
			return PLACING_HELD;
		board->at[claim->from] = from_s;
		placing = settle(board, job, claim->from, end);
		c = job->first_claim - 1; /* what is later now may be in the way of claims looked at before */
	}
	return placing;
}

void board_put(struct board *board, size_t job_index, size_t end)
{
	const struct flat_problem *flat = board->flat;
	const struct flat_job *job = &flat->jobs[job_index];
	size_t first = board->placed[job_index];

	for (size_t k = first; k < end; k++)
		if (flat->tasks[k].needs_hands)
			take_hands(board, board->at[k], end_of(board, k));
	for (size_t c = job->first_claim; c < job->end_claim; c++) {
		const struct flat_claim *claim = &flat->claims[c];
		int64_t release_s = release_of(board, claim, end);

		if (claim->from >= end || claim->to < first)
			continue;
		if (claim->from >= first)
			use(board, claim->resource, board->at[claim->from], release_s, claim->amount);
		else if (release_s != SCHEDULE_NEVER)
			use(board, claim->resource, release_s, SCHEDULE_NEVER, -claim->amount);
	}
	board->placed[job_index] = end;
}

void board_take(struct board *board, size_t job_index)
{
	const struct flat_problem *flat = board->flat;
	const struct flat_job *job = &flat->jobs[job_index];
	size_t end = board->placed[job_index];

	for (size_t k = job->first; k < end; k++)
		if (flat->tasks[k].needs_hands)
			free_hands(board, board->at[k]);
	for (size_t c = job->first_claim; c < job->end_claim; c++) {
		const struct flat_claim *claim = &flat->claims[c];

		if (claim->from < end)
			use(board, claim->resource, board->at[claim->from], release_of(board, claim, end),
			    -claim->amount);
	}
	board->placed[job_index] = job->first;
}
