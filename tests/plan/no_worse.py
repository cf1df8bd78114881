#!/usr/bin/env python3
# builds: plain
"""Plans of many random problems are no worse than they were: sums over all of them of what is found, of what is proven to be
impossible, and of the steps it takes. The other scripts here say what is right; a search that has become weaker, or that
proves less, or goes wrong once in a thousand times, shows in these sums. They are what the program made when they were
written down: where a change makes them better, they are written anew with --write. Steps are a budget besides, that bounds the time of a
search: a part of it whose work is not counted shows in fewer of them."""

import json
import os
import random
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import check, end, skip  # noqa: E402
import packing  # noqa: E402
import schedule  # noqa: E402
import schedule_problems  # noqa: E402

EXACT = re.compile("^packing|small")  # all of these are proven: there is one best, and one bound
MORE_IS_BETTER = re.compile("proven|value$|end bound|least$")
STEPS_MORE = 1.02  # another order of trying the same may take so many more, or fewer: much fewer are work not counted
WRITTEN = {
    "packing: loads": 2894,
    "packing: fills": 1162,
    "packing: splits": 1407,
    "packing: loads least": 2894,
    "packing: fills least": 1162,
    "packing: splits least": 1407,
    "packing: proven": 2880,
    "packing: steps": 132739,
    "larger packings: loads": 384,
    "larger packings: fills": 71,
    "larger packings: splits": 290,
    "larger packings: loads least": 384,
    "larger packings: fills least": 69,
    "larger packings: splits least": 277,
    "larger packings: proven": 81,
    "larger packings: steps": 502636,
    "schedules, small: value": 5621,
    "schedules, small: value bound": 5621,
    "schedules, small: end": 8451,
    "schedules, small: end bound": 8451,
    "schedules, small: ends of jobs": 13363,
    "schedules, small: proven": 1200,
    "schedules, small: steps": 10246,
    "schedules, of all sizes: value": 2523,
    "schedules, of all sizes: value bound": 2750,
    "schedules, of all sizes: end": 458941,
    "schedules, of all sizes: end bound": 358184,
    "schedules, of all sizes: ends of jobs": 3864453,
    "schedules, of all sizes: proven": 47,
    "schedules, of all sizes: steps": 55470,
}


def packings():
    chance = random.Random(7)
    problems = [packing.made(chance, 14, 6, packing.RULES[number % 3]) for number in range(900)]
    problems += [packing.made(chance, 30, 8, packing.RULES[number % 3]) for number in range(60)]
    for number, problem in enumerate(problems):
        problem.work = 60_000
        if number % 50 == 0:  # a fill that does less than a load may hold
            rolls = [(kind, party, 1000, urgent) for kind, party, _, urgent in problem.rolls]
            problems[number] = packing.Problem(problem.takes, rolls, problem.together, load_area=5000, fill_area=3000, work=60_000)
    return sums_of("packing", problems)


def larger_packings():
    """Larger ones, of which some cannot be proven to be the best: there the search shows what it is good for."""
    chance = random.Random(9)
    problems = [packing.made(chance, 70, 14, packing.RULES[number % 3]) for number in range(30)]
    for problem in problems:
        problem.work = 60_000
    return sums_of("larger packings", problems)


def sums_of(what, problems):
    found, _ = packing.answers(problems)
    sums = {"loads": sum(answer.load_count for answer in found), "fills": sum(answer.fill_count for answer in found),
            "splits": sum(answer.split_count for answer in found), "loads least": sum(answer.loads_least for answer in found),
            "fills least": sum(answer.fills_least for answer in found),
            "splits least": sum(answer.splits_least for answer in found),
            "proven": sum(sum(answer.proven) for answer in found), "steps": sum(answer.work for answer in found)}
    return {f"{what}: {name}": value for name, value in sums.items()}


def schedules():
    chance = random.Random(8)
    sums = {}
    for name, problems in (("small", [schedule.small_problem(chance) for _ in range(1200)]),
                           ("of all sizes", [schedule.any_problem(chance) for _ in range(120)])):
        found = schedule_problems.solved(problems)
        ends = [each for answer in found for each in answer.ends if each is not None]
        sums.update({f"schedules, {name}: {what}": value for what, value in (
            ("value", sum(answer.value for answer in found)), ("value bound", sum(answer.value_bound for answer in found)),
            ("end", sum(answer.end for answer in found)), ("end bound", sum(answer.end_bound for answer in found)),
            ("ends of jobs", sum(ends)), ("proven", sum(answer.proven for answer in found)),
            ("steps", sum(answer.work for answer in found)))})
    return sums


def write(sums):
    path = os.path.abspath(__file__)
    with open(path, encoding="utf-8") as file:
        text = file.read()
    rows = "".join(f"    {json.dumps(name)}: {value},\n" for name, value in sums.items())
    with open(path, "w", encoding="utf-8") as file:
        file.write(re.sub(r"(?<=^WRITTEN = \{\n)[^}]*", lambda match: rows, text, flags=re.MULTILINE))


def main():
    if not os.path.exists(packing.DRIVER) or not os.path.exists(schedule_problems.DRIVER):
        skip("sums", "the drivers are not built")
        end()
    sums = {**packings(), **larger_packings(), **schedules()}
    if sys.argv[1:] == ["--write"]:
        write(sums)
        return
    check(list(sums) == list(WRITTEN), "every sum is written down")
    for name, value in sums.items():
        was = WRITTEN.get(name, 0)
        if name.endswith("steps"):
            fits = was / STEPS_MORE <= value <= was * STEPS_MORE
        elif EXACT.search(name):
            fits = value == was
        else:
            fits = value >= was if MORE_IS_BETTER.search(name) else value <= was
        check(fits, f"{name}: {value}", f"it was {was}")
    end()


if __name__ == "__main__":
    main()
