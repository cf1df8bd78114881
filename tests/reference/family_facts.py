#!/usr/bin/env python3
# builds: plain
"""The warmth of a family's developer and its years in src/model/family_facts.def, against process_families.tsv beside this
script (encyclopaedia articles, a navy and an army manual, makers' specifications; each row names its source)."""

import os
import re
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import harness  # noqa: E402


def reference():
    """By family: nominal temperatures in °C and °F, the year it began, and the whole row."""
    found = {}
    for line in harness.read("tests/reference/process_families.tsv").splitlines():
        if line.startswith("#") or line.startswith("process\t"):
            continue
        name, celsius, fahrenheit, backing, *rest = line.split("\t")
        word, _, year = name.partition(" (")
        word = "black-and-white-negative" if word == "B&W negative" else word
        found[word] = (celsius, fahrenheit, year.rstrip(")"), backing, rest)
    return found


def main():
    table = reference()
    words = {row[0]: row[1] for row in definitions.rows("model/families.def", "FAMILY")}
    compared = 0
    for family, topic, fact, source in definitions.rows("model/family_facts.def", "FAMILY_FACT"):
        if words[family] not in table:
            continue
        celsius, fahrenheit, year, backing, rest = table[words[family]]
        if topic == "WARMTH":
            compared += 1
            said = re.search(r"([\d.]+) °C \(([\d.]+) °F\)", fact)
            harness.check(said and (float(said[1]), float(said[2])) == (float(celsius), float(fahrenheit)),
                          f"{words[family]}: {celsius} °C, {fahrenheit} °F", fact)
            harness.check("READ" in rest[-2] or "memory" in source, f"{words[family]}: what was not read is not called published",
                          source)
        elif topic == "IS" and year:
            compared += 1
            harness.check(year in fact, f"{words[family]}: began {year}", fact)
        elif topic == "BACKING":
            compared += 1
            harness.check(("rem-jet" in fact) == (backing == "yes"), f"{words[family]}: rem-jet {backing}", fact)
    harness.check(compared >= 15, f"{compared} facts were compared")
    harness.end()


main()
