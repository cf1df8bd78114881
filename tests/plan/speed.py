#!/usr/bin/env python3
# builds: plain
"""How long a plan takes, in CPU time of the program: eighty rolls of twenty origins and four processes in less than a
second, with the number of loads proven; two thousand rolls in three hundred groups in less than five, at most one load above
the bound and nothing claimed that was not proven. A day is also checked in less than a second, and planned once: not for its checks and
again for its product."""

import json
import os
import random
import resource
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.dirname(HERE), HERE]

import days  # noqa: E402
from harness import check, end, run  # noqa: E402

NEEDS = {"colour": ("C-41", 0), "pushed": ("C-41", 1), "grey": ("black-and-white-negative", 0),
         "grey-stock": ("black-and-white-negative", -1)}


def recipe(rolls, origins, groups, finish):
    """A day with so many rolls, in a rolls file beside it."""
    chance = random.Random(rolls)
    rows = ["label,format,needs,push,pull,origin,together,urgent"]
    for number in range(rolls):
        run_name = chance.choice(list(NEEDS))
        needs, push = NEEDS[run_name]
        group = f"{run_name}-{chance.randrange(groups)}" if groups and chance.random() < 0.5 else ""
        rows.append(f"R-{number},{chance.choice(['135', '135', '135', '120'])},{needs},{max(push, 0) or ''},{max(-push, 0) or ''},"
                    f"Origin {chance.randrange(origins)},{group},{'yes' if chance.random() < 0.02 else ''}")
    text = days.RECIPE.format(places=16, drying=90, pooled="stock pooled;", colour_tank="big", grey_tank="big")
    text += f"day 2026-03-14 {{\n  start 08:00; {finish} runs {', '.join(NEEDS)}; tanks big, big; reels 16 x 135, 8 x 120\n"
    return text + '  dryer cabinet\n  rolls from "rolls.csv"\n}\n', "\n".join(rows) + "\n"


def timed(folder, *arguments):
    """Runs the program in a folder: what it printed, and its CPU seconds."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    made = run(*arguments, cwd=folder, timeout=120)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if made.returncode != 0:
        sys.exit(made.stderr.decode()[:2000])
    return made.stdout, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main():
    """Small and large days, open and with a finish."""
    for rolls, origins, groups, finish, most in ((80, 20, 0, "", 1), (80, 20, 0, "finish by 20:00;", 1),
                                                 (2000, 100, 75, "", 5), (2000, 100, 75, "finish by 20:00;", 5)):
        name = f"{rolls} rolls{', ' + finish.strip(';') if finish else ''}"
        with tempfile.TemporaryDirectory() as folder:
            for path, text in zip(("day.wet", "rolls.csv"), recipe(rolls, origins, groups, finish)):
                with open(os.path.join(folder, path), "w", encoding="utf-8") as file:
                    file.write(text)
            printed, seconds = timed(folder, "plan", "day.wet", "--to", "json")
            _, checking = timed(folder, "check", "day.wet")
        check(seconds < most, f"{name}: planned within {most} s", f"{seconds:.2f} s")
        check(checking < most, f"{name}: checked within {most} s", f"{checking:.2f} s")
        if rolls == 2000 and not finish:  # nothing is left, so that no remedy is looked for either
            check(seconds < 1.6 * checking, f"{name}: planned once", f"{seconds:.2f} s, and {checking:.2f} s to check")
        kinds = json.loads(printed)["processes"]
        check(len(kinds) == 4, f"{name}: four processes")
        if rolls == 80:
            check(all(kind["loads_proven"] for kind in kinds), f"{name}: fewer loads are proven impossible", kinds)
        check(all(kind["loads"] <= kind["loads_least"] + 1 for kind in kinds), f"{name}: at most one load above the bound",
              [(kind["loads"], kind["loads_least"]) for kind in kinds])
    end()


if __name__ == "__main__":
    main()
