"""Many runs of the program in one process, by tests/unit/commands/driver_lines.c: some ten thousand in seconds."""

import os
import re
import subprocess

import harness

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "commands", "driver_lines")
MARK = re.compile(rb"\f (\d+)\n")


def run_all(command_lines, cwd=harness.ROOT, timeout=300):
    """(status, standard output, standard error) of these lists of words, in order; None where the driver ended before."""
    text = "".join("\t".join(words) + "\n" for words in command_lines)
    done = subprocess.run([DRIVER], input=text.encode(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False,
                          timeout=timeout, cwd=cwd)
    outputs, messages = MARK.split(done.stdout), MARK.split(done.stderr)
    if done.returncode != 0 or len(outputs) != 2 * len(command_lines) + 1 or len(outputs) != len(messages):
        return None
    return [(int(outputs[at + 1]), outputs[at], messages[at]) for at in range(0, len(outputs) - 1, 2)]
