#!/usr/bin/env python3
"""Areas of film by format, exposures and length against tests/reference/film_areas.tsv (each row names its source), by what
a bath of a declared capacity can do: one thousandth of a roll over its capacity is refused, the area itself is not."""

import csv
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402

FRAME = """wetside 1
tank t {{ holds 1 L; takes 8 x 135; fill 5 s; drain 5 s }}
solution developer {{
  role developer; kit makes 1 L, liquid; reuse; usable 18 C .. 24 C; capacity 1 rolls per {volume} mL
  hazards H302; waste developer
}}
solution fixer {{ role fix; kit makes 1 L, liquid; reuse; hazards none; waste silver }}
graduate g {{ holds 2 L }}
process p {{
  develops black-and-white-negative
  tank t
  load {load}
  step develop in developer at 20 ± 1 C for 8:00 {{ agitate first 30 s, then 5 s every 30 s for 6:30 }}
  step fix in fixer at 20 ± 1 C for at least 5:00 {{ agitate first 30 s, then 5 s every 30 s for 4:00 }}
  step wash in water at 20 ± 1 C for 10:00 {{ changes 6 }}
}}
"""


def fits(load, rolls):
    """True where a bath that can do so many rolls takes the load."""
    completed = harness.run("check", "-", stdin=FRAME.format(load=load, volume=f"{1000 / rolls:.6f}").encode())
    messages = completed.stderr.decode()
    if completed.returncode == 1 and messages.count("error:") == messages.count("[capacity-exceeded]") == 1:
        return False
    return completed.returncode == 0 or messages


def judge(load, square_inches, source):
    rolls = square_inches / 80
    just_enough, too_little = fits(load, rolls * 1.001), fits(load, rolls * 0.998)
    harness.check(just_enough is True and too_little is False, f"{load} is {square_inches:g} square inches ({source})",
                  f"enough: {just_enough}\ntoo little: {too_little}")


LOADS = {"135-36 roll": "4 x 135", "120 roll": "4 x 120", "220 roll": "4 x 220", "4x5 in sheet": "16 x 4x5",
         "8x10 in sheet": "4 x 8x10", "2.25x3.25 in sheet": "40 x 2.25x3.25", "5x7 in sheet": "8 x 5x7",
         "11x14 in sheet": "4 x 11x14", "135-24 roll": "6 x 135 of 24 exposures"}

with open(os.path.join(harness.ROOT, "tests/reference/film_areas.tsv"), encoding="utf-8") as file:
    ROWS = list(csv.DictReader((line for line in file if not line.startswith("#")), delimiter="\t"))
SEEN = set()
for row in ROWS:
    if row["material"] in LOADS:
        SEEN.add(row["material"])
        pieces = LOADS[row["material"]]
        judge(pieces, float(row["area_sq_in"]) * int(pieces.split()[0]), row["source"])
harness.check(SEEN == set(LOADS), "every format of the table was found", str(set(LOADS) - SEEN))

# Cine film: width × length (the definition of an area; 1 inch is 25.4 mm exactly, NIST SP 811).
for name, width_mm in (("cine-16", 16), ("cine-35", 35), ("super-8", 8), ("double-8", 16), ("135", 35)):
    judge(f"7.5 m of {name}", 7500 * width_mm / 25.4 ** 2, "width × length")
judge("2 x 135, 1 x 120, 3 m of cine-16", 240 + 3000 * 16 / 25.4 ** 2, "added up")
judge("100 ft of cine-16", 755.906, "width × length")

for load, wanted in (("2 x 120 of 12 exposures", "out-of-place"), ("3 m of 4x5", "out-of-place"), ("3 m of 120x", "syntax"),
                     ("3 kg of cine-16", "wrong-unit"), ("2 x 135 of 99 exposures", "out-of-place"),
                     ("30 m of cine-17", "unknown-name")):
    messages = harness.run("check", "-", stdin=FRAME.format(load=load, volume="10").encode()).stderr.decode()
    harness.check(f"[{wanted}]" in messages and messages.count("error:") == 1, f"{load}: {wanted}", messages)
harness.end()
