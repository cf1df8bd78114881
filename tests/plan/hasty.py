#!/usr/bin/env python3
# builds: plain
"""A packing that is cut short is still right in what it says: it keeps the rules, its bounds are no higher than the best there
is, and what it calls proven is the best. The best is that of the same problem with all the work it wants, which packing.py
compares with every way there is."""

import copy
import itertools
import os
import random
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import cases, check, end, skip  # noqa: E402
import packing  # noqa: E402

PROBLEMS = cases(300)
WORK = (1, 10, 15, 25, 40, 60, 90, 130, 200, 300, 500, 800, 1500, 5000)


def counts(answer):
    return answer.load_count, answer.fill_count, answer.split_count


def wrong_with(quick, best):
    """What a hasty answer says that cannot be. Fewer fills are counted for the number of loads, fewer splits for both."""
    least = quick.loads_least, quick.fills_least, quick.splits_least
    for number, what in enumerate(("loads", "fills", "splits")):
        if counts(quick)[:number] != counts(best)[:number]:
            return
        if least[number] > counts(best)[number]:
            yield f"at least {least[number]} {what}, {counts(best)[number]} are enough"
        if counts(quick)[number] < counts(best)[number]:
            yield f"{counts(quick)[number]} {what}, fewer than the best, {counts(best)[number]}"
        if quick.proven[number] and counts(quick)[number] != counts(best)[number]:
            yield f"{counts(quick)[number]} {what} called proven, {counts(best)[number]} are enough"


def main():
    if not os.path.exists(packing.DRIVER):
        skip("hasty packing", "driver_packing is not built")
        end()
    chance = random.Random(20260317)
    made = (packing.made(chance, 18, 6, packing.RULES[number % 3]) for number in itertools.count())
    problems = list(itertools.islice(made, PROBLEMS))
    # Where fills count, the search leaves more undecided when it is cut short.
    problems += itertools.islice((problem for problem in made if problem.has_fills), PROBLEMS)
    best, _ = packing.answers(problems)
    known = [(problem, answer) for problem, answer in zip(problems, best) if all(answer.proven) and problem.packed]
    check(len(known) > 0.9 * len(problems), f"the best is known of {len(known)} of {len(problems)} problems")
    cut = 0
    for work in WORK:
        hasty = [copy.copy(problem) for problem, _ in known]
        for problem in hasty:
            problem.work = work
        found, _ = packing.answers(hasty)
        wrong = [f"{why}\n{problem.text()}" for problem, quick, (_, answer) in zip(hasty, found, known)
                 for why in [*filter(None, [packing.wrong_with(problem, quick)]), *wrong_with(quick, answer)]]
        cut += sum(not all(quick.proven) for quick in found)
        check(not wrong, f"{len(known)} problems with {work} steps", "\n".join(wrong[:3]))
    check(cut > len(known) / 4, "many of them were cut short", cut)
    end()


if __name__ == "__main__":
    main()
