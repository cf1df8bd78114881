/* A process under construction: its own clauses over those of the process it varies. Private to model/. */
#ifndef MODEL_RESOLVE_PROCESS_H
#define MODEL_RESOLVE_PROCESS_H

#include "model/resolver.h"

struct process_draft {
	struct arena *arena;
	struct process *process;
	struct step **steps; /* in order; they are laid end to end when all are known */
	size_t step_count;
	size_t step_capacity;
	struct number_map steps_by_name; /* null for one that was left out again */
	bool is_variant_layer;		 /* the clauses being read vary a parent's */
};

/** Reads one `step` clause: a new step, or a change to a parent's. */
void step_read(const struct reader *outer, node_index clause, struct process_draft *draft);

/** Reads a `load` clause. */
void load_read(const struct reader *reader, node_index clause, struct process *process);

/** The step of a name, or null. */
struct step *draft_step(const struct process_draft *draft, uint32_t name);

/** Takes a step out of the draft, which has it. */
void draft_take_out(struct process_draft *draft, const struct step *step);

/** Reports a step name that the process does not have. */
void complain_step(const struct reader *reader, const struct process_draft *draft, struct name_reference name,
		   const char *help);

/** Roles that follow from the bath, timing taken from the process, bottle numbers, clauses out of place. */
void steps_finish(struct recipe *recipe, struct process *process, struct arena *arena);

/** Reports what the steps of a process lack. */
void steps_complain_incomplete(struct recipe *recipe, const struct process *process);

#endif
