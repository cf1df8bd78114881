#!/usr/bin/env python3
# builds: plain
"""Urgent rolls come early: of rolls that are alike the urgent ones are in the first loads, and no two loads could change
places and bring urgent rolls forward. Worked out here from the loads that the program makes."""

import os
import random
import sys
from collections import Counter, defaultdict

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import cases, check, end, skip  # noqa: E402
import packing  # noqa: E402

PROBLEMS = cases(400)


def alike(problem, roll):
    """Rolls of one kind of one party may be changed for each other."""
    return problem.rolls[roll][:3]


def lateness(problem, loads):
    """The sum of the places of urgent rolls, those of each kind being in the first loads that hold the kind."""
    left = Counter(alike(problem, roll) for roll in problem.packed if problem.rolls[roll][3])
    total = 0
    for place, load in enumerate(loads):
        for kind, count in Counter(alike(problem, roll) for roll in load).items():
            urgent = min(count, left[kind])
            left[kind] -= urgent
            total += place * urgent
    return total


def may_stand_so(problem, loads, answer):
    """Whether loads may be done in an order: spread ones first, and on no more fills."""
    return (all(problem.is_spread(load) for load in loads[:problem.untried])
            and problem.fills(loads)[-1] <= max(answer.fills))


def late_kinds(problem, answer):
    """Kinds of which a roll that is not urgent is in an earlier load than one that is."""
    places = defaultdict(lambda: ([], []))
    for place, load in enumerate(answer.loads):
        for roll in load:
            places[alike(problem, roll)][problem.rolls[roll][3]].append(place)
    return [kind for kind, (usual, urgent) in places.items() if usual and urgent and max(urgent) > min(usual)]


def better_orders(problem, answer):
    now = lateness(problem, answer.loads)
    for left in range(len(answer.loads)):
        for right in range(left + 1, len(answer.loads)):
            other = list(answer.loads)
            other[left], other[right] = other[right], other[left]
            then = lateness(problem, other)
            if then < now and may_stand_so(problem, other, answer):
                yield f"loads {left + 1} and {right + 1} the other way round: {then}, not {now}"


def main():
    if not os.path.exists(packing.DRIVER):
        skip("urgent rolls", "driver_packing is not built")
        end()
    chance = random.Random(20260315)
    problems = [packing.made(chance, 40, 12, packing.RULES[number % 3]) for number in range(PROBLEMS)]
    problems = [problem for problem in problems if problem.packed]
    found, _ = packing.answers(problems)
    late, better, mixed, several = [], [], [], 0
    for problem, answer in zip(problems, found):
        several += len(answer.loads) > 2 and lateness(problem, answer.loads) > 0
        for load in answer.loads:
            parties = [problem.rolls[roll][1] for roll in load]
            mixed += [f"{parties}\n{problem.text()}"] if parties != sorted(parties) else []
        late += [f"{kind}\n{problem.text()}" for kind in late_kinds(problem, answer)]
        better += [f"{order}\n{problem.text()}" for order in better_orders(problem, answer)]
    check(several > len(problems) // 8, f"{len(problems)} days, many of which have urgent rolls in several loads", several)
    check(not late, "of rolls that are alike the urgent ones come first", "\n".join(late[:3]))
    check(not mixed, "the rolls of a load lie by their parties", "\n".join(mixed[:3]))
    # Sixty loads of one roll each: so many are ordered another way.
    many = packing.Problem([1], [(0, party, 1000, party in (30, 59)) for party in range(60)], [False] * 60)
    answer = packing.answers([many])[0][0]
    check(lateness(many, answer.loads) == 1, "of sixty loads those of the two urgent rolls come first",
          lateness(many, answer.loads))
    check(not better, "no two loads had better change places", "\n".join(better[:3]))
    end()


if __name__ == "__main__":
    main()
