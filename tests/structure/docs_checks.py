#!/usr/bin/env python3
"""docs/checks.md lists the checks of checks.def as they are, and what each reads. `--write` brings the list up to date."""

import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import rows
from sections import WRITES, code, judge, table


def name(identity):
    return identity.replace("_", "-")


def index(checks):
    lines = []
    for identity, severity, _, may_allow, needs, summary in checks:
        link = f"[`{name(identity)}`](../src/check/explain/{name(identity)}.md)"
        allow = "yes" if may_allow == "true" else ""
        after = "" if needs == "none" else code(name(needs))
        lines.append([link, severity.lower(), allow, after, summary])
    return table(["check", "severity", "allow", "after", "says"], lines)


def reads(text):
    """The rows of the second table: a check's name and what feeds it."""
    part = text.split("## What each check reads", 1)[-1]
    return re.findall(r"^\| `([a-z-]+)` \|(.*)\|$", part, flags=re.M)


def unknown_words(cell, words):
    """Words of a row's code spans that are no keywords; the three dots stand for what the user writes, and
    options for themselves."""
    spans = re.findall(r"`([^`]+)`", cell)
    return [word for span in spans for word in re.findall(r"[\w-]+", span)
            if word not in words | {"light"} and not span.startswith("--")]


def main():
    checks = rows("support/checks.def", "CHECK")
    words = {row[1] for row in rows("syntax/words.def", "WORD")}
    text = judge("docs/checks.md", {"src/support/checks.def": lambda: index(checks)})
    if WRITES:
        return
    found = reads(text)
    wanted, listed = [name(row[0]) for row in checks], [row[0] for row in found]
    harness.check(
        listed == wanted,
        "docs/checks.md says what every check reads, in the order of checks.def",
        lambda: f"missing: {sorted(set(wanted) - set(listed))}, left over: {sorted(set(listed) - set(wanted))}",
    )
    for identity, cell in found:
        harness.check(cell.strip() != "", f"{identity} has something that it reads")
        unknown = unknown_words(cell, words)
        harness.check(not unknown, f"what {identity} reads are clauses of the language", f"no keywords: {unknown}")
    harness.end()


if __name__ == "__main__":
    main()
