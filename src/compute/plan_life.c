/* Baths whose working life ends within the day: which loads find them too old is known once the schedule is, so that
 * the day is planned again with the bath mixed anew for them. */
#include "compute/plan_draft.h"

#define DAY_MS (24LL * 3600 * 1000)

/* Of a bath that film goes through: as of a part full bottle, where that is said. Longer lives outlast the day. */
static int64_t life_s(const struct solution *solution)
{
	const struct quantity *keeps =
		span_is_set(solution->keeps_part_full.span) ? &solution->keeps_part_full : &solution->keeps_full;
	bool is_short = span_is_set(keeps->span) && keeps->value < DAY_MS && plan_bath_is_reused(solution);
	return is_short ? keeps->value / MILLISECONDS_PER_SECOND : SCHEDULE_NEVER;
}

/* When a fill was mixed; SCHEDULE_NEVER where it was not, today. */
static int64_t mixed_at(const struct plan_draft *draft, const struct plan_account *account)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		const struct plan_draft_load *load = &draft->loads[i];
		size_t task = 0;
		if (load->mix_job == PLAN_NONE || !draft->schedule->jobs[load->mix_job].is_done)
			continue;
		for (const struct plan_mix *mix = load->mixes; mix; mix = mix->next, task++) {
			if (mix->solution == account->solution && mix->fill == account->fill)
				return draft->schedule->jobs[load->mix_job].starts_s[task] + mix->hands_s;
		}
	}
	return SCHEDULE_NEVER;
}

bool plan_life_is_over(const struct plan_draft *draft, size_t load, const struct solution *solution)
{
	for (const struct plan_renewal *renewal = draft->renewals; renewal; renewal = renewal->next) {
		if (renewal->load == load && renewal->solution == solution)
			return true;
	}
	return false;
}

static bool is_too_old(const struct plan_draft *draft, size_t index, const struct plan_account *account)
{
	const struct plan_draft_load *load = &draft->loads[index];
	int64_t lasts_s = life_s(account->solution);
	if (lasts_s == SCHEDULE_NEVER || plan_life_is_over(draft, index, account->solution))
		return false;
	int64_t mixed_s = mixed_at(draft, account);
	return mixed_s != SCHEDULE_NEVER &&
	       draft->schedule->jobs[load->load_job].starts_s[load->first_run_task] - mixed_s > lasts_s;
}

bool plan_life_renew(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		const struct plan_draft_load *load = &draft->loads[i];
		for (const struct plan_account *account = load->is_left ? NULL : load->accounts; account;
		     account = account->next) {
			if (!is_too_old(draft, i, account))
				continue;
			struct plan_renewal *renewal = ARENA_NEW(draft->arena, struct plan_renewal);
			*renewal = (struct plan_renewal){ i, account->solution, draft->renewals };
			draft->renewals = renewal;
			return true;
		}
	}
	return false;
}
