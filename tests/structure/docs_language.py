#!/usr/bin/env python3
"""docs/language.md holds the tables of the row files and the grammar as they are. `--write` brings it up to date."""

import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import ROOT, rows
from sections import code, judge, table

PLACES = {
    "IN_FILE": "file",
    "IN_TANK": "tank",
    "IN_GRADUATE": "graduate",
    "IN_HEATER": "heater",
    "IN_DRYER": "dryer",
    "IN_THERMOMETER": "thermometer",
    "IN_SOLUTION": "solution",
    "IN_FILM": "film",
    "IN_PROCESS": "process",
    "IN_STEP": "step",
    "IN_DAY": "day",
    "IN_ROLL": "roll",
    "IN_ANY": "everywhere",
}
LIGHT = {
    "AFTER_TWO_MINUTES_OF_FIX": "after 2 min in the fixer",
    "AT_END_OF_BLEACH": "at the end of bleach or bleach-fix",
    "AFTER_ONE_MINUTE_OF_REVERSAL_BATH": "after 1 min in the reversal bath",
    "AT_EXPOSING": "at the exposing step",
    "AT_END_OF_FIX": "at the end of the fix",
}


def codes(words, separator):
    return ", ".join(code(word.replace("_", " ")) for word in words.split(separator) if word)


def units():
    found = rows("syntax/units.def", "UNIT")
    return table(
        ["quantity", "printed", "read"],
        [[quantity.lower(), canonical, codes(spellings, " ")] for _, canonical, quantity, _, _, spellings in found],
    )


def roles():
    found = rows("model/roles.def", "ROLE")
    return table(
        ["word", "what the bath does", "usual waste stream"],
        [[code(word), action.lower().replace("_", " "), stream] for _, word, _, action, stream in found],
    )


def families():
    found = rows("model/families.def", "FAMILY")
    return table(
        ["word", "makes", "light may come on"],
        [[code(word), makes, LIGHT[light]] for _, word, makes, _, light in found],
    )


def streams():
    return table(["word", "holds"], [[code(word), holds] for _, word, holds in rows("model/streams.def", "STREAM")])


def classes():
    return table(["word", "is"], [[code(word), title] for _, word, title in rows("model/classes.def", "CLASS")])


def chemicals():
    class_words = {identity: word for identity, word, _ in rows("model/classes.def", "CLASS")}
    lines = []
    for _, word, title, bits, hydrates in rows("model/chemicals.def", "CHEMICAL"):
        names = [class_words[bit] for bit in re.findall(r"CLASS_BIT\((\w+)\)", bits)]
        lines.append([code(word), title, codes(hydrates, " "), ", ".join(names)])
    return table(["word", "is", "hydrates", "classes"], lines)


def formats():
    found = rows("model/formats.def", "FORMAT")
    lines = [[code(word), title, f"{int(area) / 1000:g}", f"{int(area) / 80000:.4g}"]
             for _, word, title, area, _, _ in found]
    return table(["word", "is", "square inches", "rolls"], lines)


def conditions():
    return table(["word", "says"], [[code(word), title] for _, word, title in rows("model/roll_conditions.def", "CONDITION")])


def day_times():
    found = rows("model/day_times.def", "DAY_TIME")
    return table(["clause", "usual", "for"],
                 [[code(word), f"{int(usual) // 60}:{int(usual) % 60:02d}", summary] for _, word, usual, summary in found])


def columns():
    return ", ".join(code(name.replace("-", " ")) for _, name in rows("model/roll_columns.def", "COLUMN"))


def limits():
    found = rows("support/limits.def", "LIMIT")
    return table(["at the most", "of", "more"], [[words, of, then] for _, _, words, of, then in found])


def keywords():
    lines = []
    for _, word, contexts, summary in sorted(rows("syntax/words.def", "WORD"), key=lambda row: row[1].lower()):
        lines.append([code(word), ", ".join(PLACES[one.strip()] for one in contexts.split("|")), summary])
    return table(["word", "stands in", "for"], lines)


def grammar():
    return "```ebnf\n" + (ROOT / "grammar" / "reference.ebnf").read_text(encoding="utf-8").strip() + "\n```"


SECTIONS = {
    "src/syntax/units.def": units,
    "src/model/roles.def": roles,
    "src/model/families.def": families,
    "src/model/streams.def": streams,
    "src/model/classes.def": classes,
    "src/model/chemicals.def": chemicals,
    "src/model/formats.def": formats,
    "src/model/roll_conditions.def": conditions,
    "src/model/day_times.def": day_times,
    "src/model/roll_columns.def": columns,
    "src/support/limits.def": limits,
    "src/syntax/words.def": keywords,
    "grammar/reference.ebnf": grammar,
}


def main():
    judge("docs/language.md", SECTIONS)
    harness.end()


if __name__ == "__main__":
    main()
