#!/usr/bin/env python3
"""One more bath in the waste container of a large shelf: of all that it clashes with, twenty are named, whether they are
alike or not; and a shelf on which thousands clash with thousands is judged too."""

import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402

HEAD = """wetside 1
tank small { holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
"""
BATH = "solution {} {{ role {}; dilute 1+9; one-shot; contains {}; hazards H317; waste developer }}\n"
PROCESS = """process harbour {{
  develops black-and-white-negative
  tank small
  step develop in {} at 20 ± 1 °C for 8:00 {{ agitate first 30 s, then 5 s every 30 s }}
  step fix in fixer at 20 ± 2 °C for at least 5:00 {{ agitate first 15 s, then 5 s every 30 s }}
  step wash in running water at 20 ± 2 °C for at least 20:00
}}
"""
OTHERS = ("permanganate", "dichromate", "persulfate", "permanganate, silver", "dichromate, alkali", "persulfate, silver")


def clashes(folder, text):
    """How many clashes `check` names."""
    path = os.path.join(folder, "shelf.wet")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    done = harness.run("check", "--max-errors=0", path)
    messages = done.stderr.decode()
    harness.check(done.returncode == 1, "a shelf that clashes is refused", messages[-500:])
    return len(re.findall(r"\[waste-streams-clash\]", messages))


def shelf(count, what):
    return "".join(BATH.format(f"oxidiser-{number}", "toner", what[number % len(what)]) for number in range(count))


def main():
    developer = BATH.format("developer", "developer", "developing-agent")
    with tempfile.TemporaryDirectory() as folder:
        for count, named in ((1, 1), (19, 19), (20, 20), (21, 20), (3000, 20)):
            for what in (OTHERS[:1], OTHERS):
                found = clashes(folder, HEAD + developer + shelf(count, what) + PROCESS.format("developer"))
                harness.check(found == named, f"{count} baths of {len(what)} kinds: {named} are named", found)
        many = "".join(BATH.format(f"developer-{number}", "developer", "developing-agent") for number in range(4000))
        each = "".join(PROCESS.format(f"developer-{number}").replace("harbour", f"harbour-{number}") for number in range(4000))
        found = clashes(folder, HEAD + many + shelf(4000, OTHERS) + each)
        harness.check(found == 20 * 4000, "4,000 that clash with each of 4,000: twenty of each are named", found)
    harness.end()


main()
