/* Jobs that are alike: exchanged, they make the same schedule. */
#include "compute/schedule_parts.h"

static bool are_tasks_alike(const struct flat_problem *flat, const struct flat_job *a, const struct flat_job *b)
{
	for (size_t k = 0; k < a->end - a->first; k++) {
		const struct flat_task *left = &flat->tasks[a->first + k];
		const struct flat_task *right = &flat->tasks[b->first + k];

		if (left->duration_s != right->duration_s || left->wait_least_s != right->wait_least_s ||
		    left->wait_most_s != right->wait_most_s || left->needs_hands != right->needs_hands ||
		    left->shuns_breaks != right->shuns_breaks)
			return false;
	}
	return true;
}

static bool are_claims_alike(const struct flat_problem *flat, const struct flat_job *a, const struct flat_job *b)
{
	for (size_t c = 0; c < a->end_claim - a->first_claim; c++) {
		const struct flat_claim *left = &flat->claims[a->first_claim + c];
		const struct flat_claim *right = &flat->claims[b->first_claim + c];

		if (left->resource != right->resource || left->amount != right->amount ||
		    left->from - a->first != right->from - b->first || left->to - a->first != right->to - b->first ||
		    left->after_s != right->after_s)
			return false;
	}
	return true;
}

/* Whether a job comes after a task of another as often as after that task of a third. */
static bool comes_alike_after(const struct flat_problem *flat, size_t job, size_t a, size_t b)
{
	const struct schedule_job *said = flat->jobs[job].said;
	size_t sum_a = 0;
	size_t sum_b = 0;
	size_t count_a = 0;
	size_t count_b = 0;

	for (size_t i = 0; i < said->after_count; i++) {
		if (said->after[i] == a) {
			count_a++;
			sum_a += said->after_task[i];
		} else if (said->after[i] == b) {
			count_b++;
			sum_b += said->after_task[i];
		}
	}
	/* once each is what is understood here; anything else counts as not alike */
	return count_a == 1 && count_b == 1 && sum_a == sum_b;
}

static bool are_ties_alike(const struct flat_problem *flat, size_t a, size_t b)
{
	const struct flat_job *left = &flat->jobs[a];
	const struct flat_job *right = &flat->jobs[b];

	for (size_t i = 0; i < left->said->after_count; i++)
		if (left->said->after[i] != right->said->after[i] ||
		    left->said->after_task[i] != right->said->after_task[i])
			return false;
	for (size_t d = 0; d < left->dependent_count; d++)
		if (left->dependents[d] != right->dependents[d] || !comes_alike_after(flat, left->dependents[d], a, b))
			return false;
	return true;
}

static bool are_alike(const struct flat_problem *flat, size_t a, size_t b)
{
	const struct flat_job *left = &flat->jobs[a];
	const struct flat_job *right = &flat->jobs[b];

	return left->said->value == right->said->value && left->said->is_urgent == right->said->is_urgent &&
	       left->end - left->first == right->end - right->first &&
	       left->done - left->first == right->done - right->first &&
	       left->end_claim - left->first_claim == right->end_claim - right->first_claim &&
	       left->said->after_count == right->said->after_count && left->dependent_count == right->dependent_count &&
	       are_tasks_alike(flat, left, right) && are_claims_alike(flat, left, right) && are_ties_alike(flat, a, b);
}

void find_twins(struct flat_problem *flat)
{
	size_t *firsts = ARENA_ARRAY(flat->arena, size_t, flat->order_count + 1);
	size_t *lasts = ARENA_ARRAY(flat->arena, size_t, flat->order_count + 1);
	size_t kinds = 0;

	for (size_t i = 0; i < flat->order_count; i++) {
		struct flat_job *job = &flat->jobs[flat->order[i]];
		size_t kind = 0;

		while (kind < kinds && !are_alike(flat, firsts[kind], flat->order[i]))
			kind++;
		job->twin_first = flat->order[i];
		if (kind == kinds) {
			firsts[kinds++] = flat->order[i];
		} else {
			job->twin_first = firsts[kind];
			job->twin_before = lasts[kind];
			job->twin_rank = flat->jobs[lasts[kind]].twin_rank + 1;
		}
		lasts[kind] = flat->order[i];
	}
}
