/* `wetside review`: the timers' logs read back, planned beside done. */
#include "compute/review.h"
#include "commands/compile.h"
#include "commands/product.h"
#include "emit/review/wording.h"
#include "support/utf8.h"

/* Reads one log; 0, or what keeps it from being read. */
static int read_log(const struct invocation *invocation, struct text operand, struct source_set *sources,
		    struct run_log **log)
{
	struct text shown = utf8_harmless(invocation->arena, operand);
	struct text problem;
	const struct source_file *file = read_operand(invocation, operand, sources, &problem);

	if (file == NULL)
		return complain("cannot read `%.*s`: %.*s", TEXT_ARGUMENT(shown), TEXT_ARGUMENT(problem));
	*log = run_log_read(utf8_harmless(invocation->arena, file->name), source_original(file), invocation->arena);
	if (*log == NULL) {
		complain("`%.*s` is no log of a run: its first line is not `wetside-log`, a tab and `1`",
			 TEXT_ARGUMENT(shown));
		return 1;
	}
	if ((*log)->unread_count > 0 || (*log)->is_last_cut_off)
		complain("warning: `%.*s` is damaged and was read as far as it goes: %.*s", TEXT_ARGUMENT(shown),
			 TEXT_ARGUMENT(review_state(*log, invocation->arena)));
	return 0;
}

static void warn_of_copies(const struct reviews *reviews)
{
	for (size_t i = 0; i < reviews->count; i++)
		if (reviews->items[i].copy_of != NULL)
			complain("warning: `%.*s` and `%.*s` are logs of the same run: its film counts once",
				 TEXT_ARGUMENT(reviews->items[i].log->name),
				 TEXT_ARGUMENT(reviews->items[i].copy_of->log->name));
}

int command_review(const struct invocation *invocation)
{
	const struct emitter_row *emitter = product_emitter(invocation);
	struct run_log **logs = ARENA_ARRAY(invocation->arena, struct run_log *, invocation->operand_count);
	struct emission emission = { .arena = invocation->arena };
	struct source_set sources;
	struct output output;
	int status = 0;

	if (emitter == NULL)
		return 2;
	if (invocation->operand_count == 0)
		return complain("review wants at least one LOG; see `wetside review --help`");
	source_set_init(&sources, invocation->arena);
	for (size_t i = 0; i < invocation->operand_count; i++) {
		int this_status = read_log(invocation, invocation->operands[i], &sources, &logs[i]);

		status = this_status > status ? this_status : status;
	}
	if (status != 0) {
		product_warn_of_old(invocation);
		return status;
	}
	if (product_is_source(invocation, &sources))
		return complain("--output names a log itself");
	emission.reviews = reviews_build(logs, invocation->operand_count, invocation->arena);
	warn_of_copies(emission.reviews);
	output_open_memory(&output, invocation->arena);
	emitter->emit(&emission, &output);
	return product_write(invocation, emitter, &output);
}
