"""Runs of the program: many in one process, by tests/unit/commands/driver_lines.c."""

import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "commands", "driver_lines")
FINDING = re.compile(r":(\d+):\d+: (error|warning): [^\n]* \[([a-z-]+)\]$", re.M)
STEP = re.compile(r" *step (\S+)")
MARK = re.compile(rb"\f (\d+)\n")


class Run:
    """What came of one run."""

    def __init__(self, status, output, messages):
        self.status, self.output, self.messages = status, output, messages.decode("utf-8", "replace")
        self.findings = {(int(line), severity, name) for line, severity, name in FINDING.findall(self.messages)}

    def errors(self):
        """The ids of its errors."""
        return {name for _, severity, name in self.findings if severity == "error"}

    def found_in_steps(self, path, names):
        """Its findings of these names, as (id, the step in whose sentence it is)."""
        found = [(line, name) for line, _, name in self.findings if name in names]
        if not found:
            return set()
        with open(path, encoding="utf-8") as file:
            lines = file.read().split("\n")
        return {(name, next(filter(None, map(STEP.match, reversed(lines[:line])))).group(1)) for line, name in found}


def run_all(command_lines):
    """The runs of these lists of words, in order; None where the driver ended before."""
    text = "".join("\t".join(words) + "\n" for words in command_lines)
    done = subprocess.run([DRIVER], input=text.encode(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False,
                          timeout=300, cwd=harness.ROOT)
    outputs, messages = MARK.split(done.stdout), MARK.split(done.stderr)
    if done.returncode != 0 or len(outputs) != 2 * len(command_lines) + 1 or len(outputs) != len(messages):
        return None
    return [Run(int(outputs[at + 1]), outputs[at], messages[at]) for at in range(0, len(outputs) - 1, 2)]
