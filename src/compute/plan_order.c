/* The loads of all kinds in the order in which they run. Loads that share a bath follow each other in a chain, since
 * what the bath has done before a load decides its times; chains without a common bath are the schedule's to mix. */
#include "compute/mixing.h"
#include "compute/plan_draft.h"

/* Stocks behind stocks; a longer chain goes in a circle, which the model reports. */
#define LONGEST_CHAIN 32

struct order {
	struct plan_draft *draft;
	size_t *chains; /* by kind: the lowest kind that it shares a bath with, directly or not */
	size_t *next;	/* by kind: its next load */
};

static const struct packing *packing_of(const struct order *order, size_t kind)
{
	return order->draft->kinds[kind].packing;
}

/* True where a bath of the one, or a stock behind it, is one of the other. */
static bool share_bath(const struct process *a, const struct process *b)
{
	for (size_t i = 0; i < a->step_count; i++) {
		const struct solution *bath = a->steps[i].solution;
		for (int length = 0; bath && length < LONGEST_CHAIN; length++, bath = bath->stock) {
			for (size_t j = 0; j < b->step_count; j++) {
				if (b->steps[j].solution && mixing_is_from(b->steps[j].solution, bath))
					return true;
			}
		}
	}
	return false;
}

static void find_chains(struct order *order)
{
	size_t count = order->draft->kind_count;
	for (size_t i = 0; i < count; i++)
		order->chains[i] = i;
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < i; j++) {
			size_t from = order->chains[i], to = order->chains[j];
			if (from == to || !share_bath(order->draft->kinds[i].process, order->draft->kinds[j].process))
				continue;
			size_t low = from < to ? from : to, high = from < to ? to : from;
			for (size_t k = 0; k < count; k++) {
				if (order->chains[k] == high)
					order->chains[k] = low;
			}
		}
	}
}

static int64_t urgent_rolls(const struct plan_kind *kind, const struct packing_load *load)
{
	int64_t count = 0;
	for (size_t i = 0; i < load->count; i++)
		count += kind->rolls[load->rolls[i]]->is_urgent;
	return count;
}

/* How many loads of a kind run until one with urgent rolls is done; 0: none is left. */
static size_t loads_to_urgent(const struct order *order, size_t kind)
{
	const struct packing *packing = packing_of(order, kind);
	for (size_t i = order->next[kind]; i < packing->load_count; i++) {
		if (urgent_rolls(&order->draft->kinds[kind], &packing->loads[i]) > 0)
			return i - order->next[kind] + 1;
	}
	return 0;
}

/* The kind whose next load runs next in a chain: the one that comes to urgent rolls soonest, else the one that runs
 * already, so that baths change seldom, else the first. PLAN_NONE: all have run. */
static size_t choose(const struct order *order, size_t chain, size_t running)
{
	size_t chosen = PLAN_NONE, fewest = 0;
	for (size_t kind = 0; kind < order->draft->kind_count; kind++) {
		if (order->chains[kind] != chain || order->next[kind] >= packing_of(order, kind)->load_count)
			continue;
		size_t urgent = loads_to_urgent(order, kind);
		bool is_sooner = urgent > 0 && (fewest == 0 || urgent < fewest);
		bool is_as_good = fewest == 0 && kind == running;
		if (chosen == PLAN_NONE || is_sooner || is_as_good) {
			chosen = kind;
			fewest = urgent;
		}
	}
	return chosen;
}

static void add_load(struct order *order, size_t kind, size_t chain, size_t before)
{
	struct plan_draft *draft = order->draft;
	struct plan_draft_load *load = &draft->loads[draft->load_count];
	size_t number = order->next[kind]++;
	*load = (struct plan_draft_load){
		.kind = kind,
		.packed = &packing_of(order, kind)->loads[number],
		.chain = chain,
		.before = before,
		.two_before = before == PLAN_NONE ? PLAN_NONE : draft->loads[before].before,
		.first = PLAN_NONE,
		.mix_job = PLAN_NONE,
		.load_job = PLAN_NONE,
		.dry_job = PLAN_NONE,
	};
	load->urgent_rolls = urgent_rolls(&draft->kinds[kind], load->packed);
	for (size_t i = 0; number == 1 && i < draft->load_count; i++) {
		if (draft->loads[i].kind == kind)
			load->first = i;
	}
	draft->load_count++;
}

void plan_order_loads(struct plan_draft *draft)
{
	struct order order = {
		.draft = draft,
		.chains = ARENA_ARRAY(draft->arena, size_t, draft->kind_count),
		.next = ARENA_ARRAY(draft->arena, size_t, draft->kind_count),
	};
	size_t count = 0;
	for (size_t i = 0; i < draft->kind_count; i++)
		count += draft->kinds[i].packing->load_count;
	draft->loads = ARENA_ARRAY(draft->arena, struct plan_draft_load, count);
	find_chains(&order);
	for (size_t i = 0; i < draft->kind_count; i++) {
		if (order.chains[i] != i)
			continue;
		size_t before = PLAN_NONE;
		for (size_t kind = choose(&order, i, i); kind != PLAN_NONE; kind = choose(&order, i, kind)) {
			add_load(&order, kind, draft->chain_count, before);
			before = draft->load_count - 1;
		}
		draft->chain_count++;
	}
}
