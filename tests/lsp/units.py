#!/usr/bin/env python3
"""The units that completion offers behind a word are the units that the compiler takes there: for each figure with a
unit in the examples and in the documents' recipes, the unit's kind is among those of the nearest word before it."""

import glob
import os
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402


def kinds_of_spellings():
    kinds = {}
    for quantity, spellings in re.findall(r'^UNIT\(\w+, "[^"]+", (\w+), \d+, -?\d+, "([^"]+)"\)', harness.read("src/syntax/units.def"),
                                          re.MULTILINE):
        for spelling in spellings.split():
            kinds[spelling.replace("_", " ")] = quantity
    return kinds


def main():
    spellings = dict(re.findall(r'^WORD\((\w+), "([^"]+)"', harness.read("src/syntax/words.def"), re.MULTILINE))
    table = {spellings[word]: set(re.findall(r"KIND\((\w+)\)", kinds)) for word, kinds in re.findall(
        r"^UNITS_AFTER\((\w+), (.*)\)$", harness.read("src/commands/lsp/completion_units.def"), re.MULTILINE)}
    kinds = kinds_of_spellings()
    unit = "|".join(re.escape(spelling) for spelling in sorted(kinds, key=len, reverse=True))
    wrong, seen, words = [], 0, set()
    for path in sorted(glob.glob(os.path.join(harness.ROOT, "examples/*.wet"))) + [os.path.join(harness.ROOT, "docs/language.md")]:
        text = harness.read(path)
        if path.endswith(".md"):
            text = "\n".join(block for info, block in re.findall(r"```wetside(.*)\n(.*?)```", text, re.DOTALL) if "wrong" not in info)
        for line in text.splitlines():
            line = re.sub(r'"[^"]*"', '""', line).split("#")[0]
            for figure in re.finditer(rf"(?<![\w+:.-])\d[\d.]* ?({unit})(?![\w/%])", line):
                before = re.split(r"[;{]", line[:figure.start()])[-1]
                near = [word for word in re.findall(r"[A-Za-z-]+", before) if word in table]
                if not near:
                    continue
                seen += 1
                words.add(near[-1])
                if kinds[figure[1]] not in table[near[-1]]:
                    wrong.append(f"{os.path.basename(path)}: {line.strip()}: {figure[0]} behind `{near[-1]}`")
    harness.check(not wrong and seen > 200, f"{seen} figures have a unit that is offered behind their word", "\n".join(wrong))
    harness.check(len(words) > 25, f"{len(words)} words of {len(table)} were met", sorted(set(table) - words))
    harness.end()


main()
