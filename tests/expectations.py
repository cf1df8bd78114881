"""Findings written beside what causes them, and the comparison with what the program finds.

A line that ends in `# expect ID` must get exactly that finding, on that line; several ids are several findings. A comment
line `# expect-anywhere ID` asks for a finding whose line is not the point. A file without either must be clean.
A comment line `# options: --on 2026-03-14` gives the options it is checked with.
"""

import collections
import re

EXPECT = re.compile(r"#\s*expect((?:\s+[a-z0-9-]+)+)\s*$")
ANYWHERE = re.compile(r"#\s*expect-anywhere((?:\s+[a-z0-9-]+)+)\s*$")
OPTIONS = re.compile(r"^#\s*options:\s*(.+)$", re.MULTILINE)
FINDING = re.compile(r"^(?P<file>.+?):(?P<line>\d+):(?P<column>\d+): "
                     r"(?P<severity>error|warning|hint): (?P<text>.*) \[(?P<id>[a-z0-9-]+)\]$")

Finding = collections.namedtuple("Finding", "file line column severity text id")


def findings_of(messages):
    """The findings among the lines of standard error, in order."""
    matches = (FINDING.match(line) for line in messages.splitlines())
    return [Finding(match["file"], int(match["line"]), int(match["column"]), match["severity"], match["text"],
                    match["id"]) for match in matches if match]


def expected_in(text):
    """What a source asks for: a counter of (line, id) and a counter of ids whose line is free."""
    on_line, anywhere = collections.Counter(), collections.Counter()
    for number, line in enumerate(text.splitlines(), 1):
        match = EXPECT.search(line)
        if match:
            on_line.update((number, name) for name in match.group(1).split())
        match = ANYWHERE.search(line)
        if match:
            anywhere.update(match.group(1).split())
    return on_line, anywhere


def differences(text, findings):
    """What is wrong with the findings of a source, a line each; empty where they are exactly those it asks for."""
    on_line, anywhere = expected_in(text)
    surplus = []
    for finding in findings:
        if on_line[finding.line, finding.id] > 0:
            on_line[finding.line, finding.id] -= 1
        elif anywhere[finding.id] > 0:
            anywhere[finding.id] -= 1
        else:
            surplus.append(f"line {finding.line}: not expected: {finding.severity}: {finding.text} [{finding.id}]")
    missing = [f"line {line}: expected but not found: {name}"
               for (line, name), count in sorted(on_line.items()) for _ in range(count)]
    missing += [f"expected anywhere but not found: {name}"
                for name, count in sorted(anywhere.items()) for _ in range(count)]
    return surplus + missing


def options_in(text):
    """The options a source wants to be read with: a comment line `# options: --on 2026-03-14`."""
    match = OPTIONS.search(text)
    return match.group(1).split() if match else []


def status_for(findings):
    """The exit status that agrees with the findings."""
    return 1 if any(finding.severity == "error" for finding in findings) else 0
