#!/usr/bin/env python3
"""Single-letter slips (a letter dropped, doubled, swapped with its neighbour, or another in its place) in keywords, units
and names: one message, at the right line and column, with the right suggestion. The slips are the kind that fingers make
(common practice, no source)."""

import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402

FRAME = """wetside 1
tank upright { holds 2.5 L; takes 8 x 135; fill 20 s; drain 15 s; emptied through lid }
graduate big { holds 3 L }
thermometer glass { reads 0.1 C within 0.1 C; checked 2026-02-01 }
dryer cabinet { takes 24 rolls; for 2 h; up to 35 C; length 1.8 m }
solution developer { role developer; kit makes 1 L, powder; reuse; usable 18 C .. 24 C; hazards H302; waste developer }
solution fixer { role fix; capacity 20 rolls per 1 L; keeps 2 months full; hazards none; waste silver }
film stock { family black-and-white-negative; backing none; emulsion hardened }
process negative {
  develops black-and-white-negative
  tank upright
  graduate big
  film stock
  thermometer glass
  wet time under 60 min
  step develop in developer at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 30 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 30 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for 20 min { flow 4 L per min }
  step dry in cabinet for 2 h { note "hang" }
}
"""

# right word, slip, number of the place where the right word stands in the frame
SLIPS = [
    ("holds", "holsd", 1), ("takes", "tales", 1), ("fill", "fil", 1), ("drain", "drian", 1), ("emptied", "emtied", 1),
    ("through", "trough", 1), ("graduate", "gradaute", 1), ("thermometer", "thermometr", 1), ("reads", "raeds", 1),
    ("within", "wihtin", 1), ("checked", "cheked", 1), ("dryer", "dyer", 1), ("rolls", "rols", 1),
    ("length", "lenght", 1), ("solution", "soluton", 1), ("role", "rloe", 1), ("makes", "makse", 1),
    ("reuse", "reuze", 1), ("usable", "useable", 1), ("hazards", "hazrads", 1), ("waste", "wsate", 1),
    ("capacity", "capactiy", 1), ("keeps", "keaps", 1), ("full", "fulll", 1), ("family", "familly", 1),
    ("backing", "baking", 1), ("emulsion", "emulsoin", 1), ("process", "proces", 1), ("develops", "develps", 1),
    ("under", "undre", 1), ("step", "setp", 1), ("agitate", "agittate", 1), ("first", "fisrt", 1), ("every", "evrey", 1),
    ("least", "laest", 1), ("flow", "flwo", 1), ("note", "noet", 1), ("running", "runing", 1),
    # names and words of the closed vocabularies
    ("silver", "silvre", 1), ("hardened", "hardend", 1), ("months", "monhts", 1), ("powder", "powdre", 1),
    ("fixer", "fixr", 2), ("cabinet", "cabnet", 2), ("upright", "uprihgt", 2), ("big", "bgi", 2), ("glass", "glas", 2),
    ("stock", "stcok", 2), ("black-and-white-negative", "black-and-white-negatve", 2),
]

FINDING = re.compile(r"^(.+?):(\d+):(\d+): error: (.*) \[([a-z-]+)\]$")


def place_of(word, occurrence):
    """Offset of the n-th place where the word stands alone."""
    places = [match.start() for match in re.finditer(rf"(?<![\w-]){re.escape(word)}(?![\w-])", FRAME)]
    return places[occurrence - 1]


def judge(word, slip, occurrence):
    at = place_of(word, occurrence)
    source = FRAME[:at] + slip + FRAME[at + len(word):]
    line = source.count("\n", 0, at) + 1
    column = at - source.rfind("\n", 0, at)
    completed = harness.run("check", "-", stdin=source.encode())
    messages = completed.stderr.decode()
    findings = [match.groups() for match in map(FINDING.match, messages.splitlines()) if match]
    name = f"{slip} for {word}"
    if len(findings) != 1:
        harness.not_ok(name, f"{len(findings)} messages\n{messages}")
        return
    suggested = f"`{word}`" in messages
    placed = findings[0][1:3] == (str(line), str(column))
    harness.check(suggested and placed, name, f"wanted {line}:{column} and `{word}`\n{messages}")


harness.check(harness.run("check", "-", stdin=FRAME.encode()).returncode == 0, "the frame itself has no errors")
harness.check(len(SLIPS) >= 40, "at least 40 slips")
for slip_row in SLIPS:
    judge(*slip_row)
harness.end()
