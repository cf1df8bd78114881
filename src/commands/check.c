/* `wetside check`: findings only. */
#include "commands/compile.h"

int command_check(const struct invocation *invocation)
{
	int worst = 0;

	if (invocation->operand_count == 0)
		return complain("check wants a FILE; see `wetside check --help`");
	for (size_t i = 0; i < invocation->operand_count; i++) {
		struct compilation compilation;
		int status = compile_file(invocation, invocation->operands[i], &compilation, NULL, NULL);

		if (status > worst)
			worst = status;
	}
	return worst;
}
