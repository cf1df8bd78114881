/* Whether a process may be judged: a mistake in what it is made of makes nonsense of further findings, a mistake
 * elsewhere does not. */
#ifndef MODEL_SOUNDNESS_H
#define MODEL_SOUNDNESS_H

#include "model/recipe.h"

/** True where no error was reported inside the process, the processes it varies, or anything it names. */
bool process_is_sound(struct recipe *recipe, const struct process *process);

#endif
