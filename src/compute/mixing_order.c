#include "compute/mixing_order.h"

struct order_row {
	int group;
	struct text why;
};

static const struct order_row rows[] = {
#define MIXING_ORDER(action, group, why) [ACTION_##action] = { group, { why, sizeof(why) - 1 } },
#include "compute/mixing_order.def"
#undef MIXING_ORDER
};

static const struct order_row *row_of(const struct solution *solution)
{
	return &rows[role_row(solution->role)->action];
}

struct text mixing_order_why(const struct solution *solution)
{
	return row_of(solution)->why;
}

#define GROUP_COUNT 9

/* Chains of stocks longer than this go in a circle, which the model reports. */
#define LONGEST_CHAIN 32

struct order {
	struct mixing_turn *turns;
	size_t count;
	bool knows_times[GROUP_COUNT]; /* all cooling times of a group are known */
};

static struct mixing_turn *turn_of(const struct order *order, const struct solution *solution)
{
	for (size_t i = 0; i < order->count; i++) {
		if (order->turns[i].solution == solution)
			return &order->turns[i];
	}
	return NULL;
}

/* A stock is as early as the earliest bath that is diluted from it. */
static void set_groups(struct order *order)
{
	for (size_t i = 0; i < order->count; i++)
		order->turns[i].group = row_of(order->turns[i].solution)->group;
	for (size_t i = 0; i < order->count; i++) {
		const struct solution *stock = order->turns[i].solution->stock;
		int group = row_of(order->turns[i].solution)->group;
		for (int length = 0; stock && length < LONGEST_CHAIN; length++, stock = stock->stock) {
			struct mixing_turn *turn = turn_of(order, stock);
			if (turn && group < turn->group)
				turn->group = group;
		}
	}
	for (size_t i = 0; i < GROUP_COUNT; i++)
		order->knows_times[i] = true;
	for (size_t i = 0; i < order->count; i++) {
		if (order->turns[i].cools_ms < 0)
			order->knows_times[order->turns[i].group] = false;
	}
}

/* What orders two baths of one group. */
static enum mixing_reason reason_for(const struct order *order, const struct mixing_turn *a,
				     const struct mixing_turn *b, bool *is_first)
{
	bool knows_times = order->knows_times[a->group];
	int64_t a_cools = knows_times ? a->cools_ms : a->excess;
	int64_t b_cools = knows_times ? b->cools_ms : b->excess;
	if (a_cools != b_cools) {
		*is_first = a_cools > b_cools;
		return MIXING_BY_COOLING;
	}
	if (a->keeps_ms != b->keeps_ms) {
		*is_first = a->keeps_ms > b->keeps_ms;
		return MIXING_BY_KEEPING;
	}
	*is_first = a->index < b->index;
	return MIXING_BY_POUR;
}

static bool comes_first(const struct order *order, const struct mixing_turn *a, const struct mixing_turn *b)
{
	bool is_first = a->group < b->group;
	if (a->group == b->group)
		reason_for(order, a, b, &is_first);
	return is_first;
}

static void sort(struct order *order)
{
	for (size_t i = 1; i < order->count; i++) {
		struct mixing_turn turn = order->turns[i];
		size_t place = i;
		for (; place > 0 && comes_first(order, &turn, &order->turns[place - 1]); place--)
			order->turns[place] = order->turns[place - 1];
		order->turns[place] = turn;
	}
}

/* Copies a turn to the end of `placed`, behind the stocks that it still waits for. */
static size_t place(const struct order *order, struct mixing_turn *turn, struct mixing_turn *placed, size_t count)
{
	struct mixing_turn *chain[LONGEST_CHAIN];
	size_t length = 0;
	for (const struct solution *next = turn->solution; next && length < LONGEST_CHAIN; next = next->stock) {
		struct mixing_turn *waiting = turn_of(order, next);
		if (!waiting || waiting->is_placed)
			break;
		waiting->is_placed = true;
		chain[length++] = waiting;
	}
	while (length > 0)
		placed[count++] = *chain[--length];
	return count;
}

static enum mixing_reason reason_behind(const struct order *order, const struct mixing_turn *before,
					const struct mixing_turn *turn)
{
	bool is_first = true;
	enum mixing_reason reason = MIXING_BY_GROUP;
	if (before->group == turn->group)
		reason = reason_for(order, before, turn, &is_first);
	bool waited = turn->solution->stock == before->solution || !is_first;
	return waited ? MIXING_BY_STOCK : reason;
}

void mixing_order(struct mixing_turn *turns, size_t count, struct arena *arena)
{
	struct order order = { .turns = turns, .count = count };
	set_groups(&order);
	sort(&order);
	struct mixing_turn *placed = ARENA_ARRAY(arena, struct mixing_turn, count);
	for (size_t i = 0, past = 0; i < count; i++)
		past = place(&order, &turns[i], placed, past);
	for (size_t i = 0; i < count; i++)
		turns[i] = placed[i];
	for (size_t i = 1; i < count; i++)
		turns[i].reason = reason_behind(&order, &turns[i - 1], &turns[i]);
}
