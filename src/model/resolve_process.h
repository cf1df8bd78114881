/* A process under construction: its own clauses over those of the process it varies. Private to model/. */
#ifndef MODEL_RESOLVE_PROCESS_H
#define MODEL_RESOLVE_PROCESS_H

#include "model/resolver.h"

struct process_draft {
	struct arena *arena;
	struct process *process;
	size_t step_capacity;
	bool is_variant_layer; /* the clauses being read vary a parent's */
};

/** Reads one `step` clause: a new step, or a change to a parent's. */
void step_read(const struct reader *outer, node_index clause, struct process_draft *draft);

/** The step of a name, or null. */
struct step *draft_step(const struct process_draft *draft, uint32_t name);

/** Reports a step name that the process does not have. */
void complain_step(const struct reader *reader, const struct process_draft *draft, struct name_reference name,
		   const char *help);

/** Roles that follow from the bath, timing taken from the process, bottle numbers, clauses out of place. */
void steps_finish(struct recipe *recipe, struct process *process);

/** Reports what the steps of a process lack. */
void steps_complain_incomplete(struct recipe *recipe, const struct process *process);

#endif
