"""Runs of the program, and what they found."""

import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import many_runs  # noqa: E402

FINDING = re.compile(r":(\d+):\d+: (error|warning): [^\n]* \[([a-z-]+)\]$", re.M)
STEP = re.compile(r" *step (\S+)")


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
    runs = many_runs.run_all(command_lines)
    return None if runs is None else [Run(*run) for run in runs]
