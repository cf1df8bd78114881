#!/usr/bin/env python3
# builds: plain
"""What people at the sink say of their days, against the plan. All of it is common practice, no source: eight 35 mm reels a
tank make ten loads of eighty rolls; a load is in its baths for about 15 minutes; one person with one set of reels does
about 70 rolls in 11 hours and 80 in 14; the roll loaded last hangs first. The order of magnitude is what is asked: hours
and rolls within a fifth, minutes of bath time within one."""

import json
import os
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import ROOT, check, end, run  # noqa: E402

FIFTH = 0.2


def plan(clauses, rolls=80):
    """The plan of a day with so many rolls of 135, four to an origin, in the bleach-fix process of the examples."""
    text = 'wetside 1\nuse "room.wet"\nuse "baths.wet"\nuse "colour-negative-bleach-fix.wet"\nday 2026-03-14 {\n'
    text += f"  start 08:00; runs colour-negative; {clauses}\n"
    text += "".join(f'  roll R-{i:02} {{ format 135; needs C-41; origin "Shelf {i // 4}" }}\n' for i in range(rolls))
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "day.wet")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text + "}\n")
        made = run("plan", path, "-I", os.path.join(ROOT, "examples"), "--to", "json")
    if made.returncode != 0:
        sys.exit(made.stderr.decode())
    return json.loads(made.stdout)


def is_near(value, wanted, share=FIFTH):
    """Whether a figure is within a share of what is wanted."""
    return abs(value - wanted) <= share * wanted


def main():
    """Open days, then days that end."""
    one_set = "tanks upright-39; reels 8 x 135"
    whole = plan(one_set)
    loads = whole["loads"]
    check(len(loads) == 10 and whole["processes"][0]["loads_proven"], "eighty rolls are ten loads, and fewer impossible")
    check(all(len(load["places"]) == 8 for load in loads), "eight reels a load")
    baths = [(load["out_s"] - load["pour_s"]) / 60 for load in loads]
    check(all(abs(minutes - 15) <= 1 for minutes in baths), "about 15 minutes of bath time a load", baths)
    hung = max(load["hung_s"] for load in loads) / 3600
    check(is_near(hung, 14), "80 rolls in about 14 hours", f"{hung:.1f} h")
    short = plan(f"finish by 19:00; {one_set}")["summary"]["rolls_today"]
    check(is_near(short, 70), "about 70 rolls in 11 hours", short)
    places = [place for load in loads for place in load["places"]]
    check(all(place["reel"] + place["hang"] == 9 for place in places), "the roll loaded last hangs first")
    two_sets = plan("tanks upright-39; reels 16 x 135")
    gained = hung - max(load["hung_s"] for load in two_sets["loads"]) / 3600
    check(gained >= 1, "a second set of reels saves an hour or more", f"{gained:.1f} h")
    found = {remedy["kind"]: remedy for remedy in plan(f"finish by 19:00; {one_set}")["remedies"]}
    check(found.get("reels", {}).get("fits"), "and is named where the day does not fit", found)
    # Pooled: 80 / 24 rolls, whole kits, is 4 fills of 3 kits; the bleach-fix is a kit like it.
    kits = {bath["name"]: bath["mixed_ml"] / 1000 for bath in whole["solutions"]}
    check(kits["colour-developer"] == 12, "twelve one-litre kits of developer, pooled", kits)
    end()


if __name__ == "__main__":
    main()
