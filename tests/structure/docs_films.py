#!/usr/bin/env python3
"""docs/films.md tells the facts of src/model/family_facts.def as they are, and every family has what intake wants to know.
`--write` brings it up to date."""

import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import rows
from sections import WRITES, code, judge

TOPICS = {"IS": "What it is", "WARMTH": "Developer", "BACKING": "Backing", "TODAY": "Today",
          "GONE": "Today, its process being gone"}


def facts():
    found = rows("model/family_facts.def", "FAMILY_FACT")
    parts = []
    for identity, word, makes, _, _ in rows("model/families.def", "FAMILY"):
        lines = [f"- {TOPICS[topic]}: {fact} ({source})" for family, topic, fact, source in found if family == identity]
        parts.append(f"### {word}\n\n{makes[:1].upper()}{makes[1:]}.\n\n" + "\n".join(lines))
    return "\n\n".join(parts)


def main():
    judge("docs/films.md", {"src/model/family_facts.def": facts})
    if WRITES:
        return
    found = rows("model/family_facts.def", "FAMILY_FACT")
    families = {row[0]: row[1] for row in rows("model/families.def", "FAMILY")}
    for identity, word in families.items():
        topics = [row[1] for row in found if row[0] == identity]
        harness.check("IS" in topics and ("TODAY" in topics) != ("GONE" in topics),
                      f"{word}: what it is, and what to do with it, are said", topics)
        said = harness.run("explain", word).stdout.decode()
        missing = [row[2] for row in found if row[0] == identity and f"{row[2]} ({row[3]})" not in said]
        harness.check(not missing, f"explain {word} says it, with its source", missing)
    unsourced = [row for row in found if not row[3].strip()]
    harness.check(not unsourced, "every fact has its source, or says that it has none", unsourced)
    harness.end()


if __name__ == "__main__":
    main()
