/* Conflicts: tasks that meet for the hands, claims of more than there is; and the ways to resolve them. */
#include "compute/schedule_decisions.h"

/* Of jobs that are alike, the first has each of its tasks and claims before the second's. */
static bool is_later_twin(const struct decisions *now, size_t task, size_t other)
{
	const struct flat_job *job = &now->flat->jobs[now->flat->tasks[task].job];
	const struct flat_job *before = &now->flat->jobs[now->flat->tasks[other].job];

	return job->twin_first == before->twin_first && job->twin_rank > before->twin_rank &&
	       task - job->first == other - before->first;
}

/* What would end earliest if one task came so long behind another. */
static int64_t end_if(const struct decisions *now, size_t from, size_t to, int64_t after_s)
{
	return add_up(now->at[from] + after_s + now->flat->tasks[to].duration_s, now->windows.tail_s[to]);
}

static void add_way(struct decisions *now, size_t from, size_t to, int64_t after_s)
{
	struct way way = { from, to, after_s, end_if(now, from, to, after_s), now->at[from] + after_s - now->at[to] };
	size_t place = now->way_count;

	ARENA_RESERVE(now->flat->arena, now->ways, now->way_count, now->way_capacity);
	for (; place > now->way_base; place--) {
		const struct way *other = &now->ways[place - 1];

		if (other->end_s < way.end_s || (other->end_s == way.end_s && other->delay_s <= way.delay_s))
			break;
		now->ways[place] = *other;
	}
	now->ways[place] = way;
	now->way_count++;
}

/* Two tasks that meet for the hands. */
struct meeting {
	size_t earlier, later;
	int64_t least_end_s, most_end_s; /* of the two ways to part them */
};

static struct meeting meeting_of(const struct decisions *now, size_t earlier, size_t later)
{
	int64_t one_s = is_later_twin(now, earlier, later)
				? SCHEDULE_NEVER
				: end_if(now, earlier, later, now->flat->tasks[earlier].duration_s);
	int64_t other_s = is_later_twin(now, later, earlier)
				  ? SCHEDULE_NEVER
				  : end_if(now, later, earlier, now->flat->tasks[later].duration_s);

	return (struct meeting){ earlier, later, one_s < other_s ? one_s : other_s, one_s < other_s ? other_s : one_s };
}

static void sort_by_start(const struct decisions *now, size_t *tasks, size_t count)
{
	for (size_t i = 1; i < count; i++) {
		size_t task = tasks[i];
		size_t place = i;

		for (; place > 0 && now->at[tasks[place - 1]] > now->at[task]; place--)
			tasks[place] = tasks[place - 1];
		tasks[place] = task;
	}
}

/* The meeting of two tasks for the hands that costs most whichever goes first: it shows soonest what leads nowhere.
 * False where none meet. */
static bool find_meeting(struct decisions *now, struct meeting *found)
{
	bool exists = false;

	sort_by_start(now, now->hands, now->hands_count);
	for (size_t i = 0; i < now->hands_count; i++) {
		int64_t end_s = decided_end(now, now->hands[i]);

		for (size_t k = i + 1; k < now->hands_count && now->at[now->hands[k]] < end_s; k++) {
			struct meeting meeting = meeting_of(now, now->hands[i], now->hands[k]);

			toil_count(now->toil, 1);
			if (exists &&
			    (meeting.least_end_s < found->least_end_s ||
			     (meeting.least_end_s == found->least_end_s && meeting.most_end_s <= found->most_end_s)))
				continue;
			*found = meeting;
			exists = true;
		}
	}
	return exists;
}

static int64_t release_of(const struct decisions *now, size_t claim)
{
	return decided_end(now, now->flat->claims[claim].to) + now->flat->claims[claim].after_s;
}

static int64_t begin_of(const struct decisions *now, size_t claim)
{
	return now->at[now->flat->claims[claim].from];
}

static bool begins_before(const struct decisions *now, size_t a, size_t b)
{
	size_t left = now->flat->claims[a].resource;
	size_t right = now->flat->claims[b].resource;

	return left != right ? left < right : begin_of(now, a) < begin_of(now, b);
}

/* The first time before `before_s` at which there is not enough of something; the claims then are in `active`. */
static int64_t find_shortage(struct decisions *now, int64_t before_s, size_t *count)
{
	const struct flat_claim *claims = now->flat->claims;
	size_t low = 0;

	for (size_t i = 1; i < now->claim_count; i++) {
		size_t claim = now->claims[i];
		size_t place = i;

		for (; place > 0 && begins_before(now, claim, now->claims[place - 1]); place--)
			now->claims[place] = now->claims[place - 1];
		now->claims[place] = claim;
	}
	int64_t found_s = SCHEDULE_NEVER;
	size_t found = 0;

	for (size_t i = 0; i < now->claim_count; i++) {
		size_t claim = now->claims[i];
		int64_t time_s = begin_of(now, claim);
		int64_t amount = now->flat->said->resources[claims[claim].resource].amount;

		while (claims[now->claims[low]].resource != claims[claim].resource)
			low = i;
		if (time_s >= before_s || time_s >= found_s)
			continue;
		for (size_t k = low; k <= i; k++) {
			if (release_of(now, now->claims[k]) <= time_s)
				continue;
			amount -= claims[now->claims[k]].amount <= amount ? claims[now->claims[k]].amount : amount + 1;
			if (amount < 0)
				break;
		}
		toil_count(now->toil, 1 + (i - low) / 4);
		if (amount < 0) {
			found_s = time_s;
			found = i;
		}
	}
	if (found_s == SCHEDULE_NEVER)
		return found_s;
	*count = 0;
	for (size_t k = 0; k <= found; k++)
		if (claims[now->claims[k]].resource == claims[now->claims[found]].resource &&
		    release_of(now, now->claims[k]) > found_s)
			now->active[(*count)++] = now->claims[k];
	return found_s;
}

/* Leaves out claims, the smallest first, that are not needed for there being too little. */
static size_t shrink_shortage(struct decisions *now, size_t count)
{
	const struct flat_claim *claims = now->flat->claims;
	int64_t over = 0;

	for (size_t i = 1; i < count; i++) {
		size_t claim = now->active[i];
		size_t place = i;

		for (; place > 0 && claims[now->active[place - 1]].amount < claims[claim].amount; place--)
			now->active[place] = now->active[place - 1];
		now->active[place] = claim;
	}
	/* the largest ones until there are enough of them; the one that fills it up may be the smallest that does */
	int64_t amount = now->flat->said->resources[claims[now->active[0]].resource].amount;
	size_t needed = 0;

	for (; over <= amount - claims[now->active[needed]].amount; needed++)
		over += claims[now->active[needed]].amount;
	return needed + 1;
}

static void part_claims(struct decisions *now, size_t count)
{
	const struct flat_claim *claims = now->flat->claims;

	for (size_t a = 0; a < count; a++)
		for (size_t b = 0; b < count; b++) {
			const struct flat_claim *before = &claims[now->active[a]];
			const struct flat_claim *behind = &claims[now->active[b]];
			int64_t after_s = now->flat->tasks[before->to].duration_s + before->after_s;

			/* a claim is out of another's way if it lasts no time */
			if (a == b && before->least_s > 0)
				continue;
			if (before->least_s > 0 && is_later_twin(now, before->from, behind->from) &&
			    is_later_twin(now, before->to, behind->to))
				continue;
			add_way(now, before->to, behind->from, after_s);
		}
}

/* The ways to resolve a conflict, behind way_base; or that there is none. */
void decisions_find_ways(struct decisions *now)
{
	struct meeting meeting = { 0, 0, 0, 0 };
	size_t count = 0;
	bool is_meeting = find_meeting(now, &meeting);
	bool is_shortage = find_shortage(now, SCHEDULE_NEVER, &count) != SCHEDULE_NEVER;

	now->is_free = !is_shortage && !is_meeting;
	if (is_shortage) {
		part_claims(now, shrink_shortage(now, count));
		/* no ways at all: it cannot be; else what costs more comes first */
		if (!is_meeting || now->way_count == now->way_base ||
		    now->ways[now->way_base].end_s >= meeting.least_end_s)
			return;
		now->way_count = now->way_base;
	}
	if (is_meeting) {
		size_t one = meeting.earlier;
		size_t other = meeting.later;

		if (!is_later_twin(now, one, other))
			add_way(now, one, other, now->flat->tasks[one].duration_s);
		if (!is_later_twin(now, other, one))
			add_way(now, other, one, now->flat->tasks[other].duration_s);
	}
}
