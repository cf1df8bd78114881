#!/usr/bin/env python3
# builds: plain
"""Jobs that are alike but for one thing are not exchanged: small problems with a job and a copy of it that differs in one
figure, in either order, against the schedule found by trying every second (schedule.py)."""

import copy
import os
import random
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402
import schedule  # noqa: E402
from schedule_problems import DRIVER, NEVER, solved, wrong_in  # noqa: E402

ROUNDS = 20


def longer(chance, job, problem):
    task = chance.choice(job.tasks)
    task.duration += chance.randint(1, 3)


def waits_longer(chance, job, problem):
    task = chance.choice(job.tasks)
    more = chance.randint(1, 3)
    task.least += more
    task.most = NEVER if task.most is NEVER else task.most + more


def waits_less_long(chance, job, problem):
    task = chance.choice(job.tasks)
    task.most = task.least if task.most is NEVER else NEVER


def other_hands(chance, job, problem):
    task = chance.choice(job.tasks)
    task.hands = not task.hands


def other_in_break(chance, job, problem):
    task = chance.choice(job.tasks)
    task.in_break = not task.in_break


def takes_another_amount(chance, job, problem):
    if job.claims:
        which = chance.randrange(len(job.claims))
        resource, amount, *rest = job.claims[which]
        job.claims[which] = (resource, amount + 1 if amount < problem.resources[resource] else max(1, amount - 1), *rest)


def keeps_longer(chance, job, problem):
    if job.claims:
        which = chance.randrange(len(job.claims))
        *rest, after = job.claims[which]
        job.claims[which] = (*rest, after + 2)


def keeps_until_another_task(chance, job, problem):
    if job.claims:
        which = chance.randrange(len(job.claims))
        resource, amount, first, last, after = job.claims[which]
        job.claims[which] = (resource, amount, first, chance.randrange(first, len(job.tasks)), after)


def worth_another(chance, job, problem):
    job.value += 1


def urgent(chance, job, problem):
    job.urgent = not job.urgent


def done_earlier(chance, job, problem):
    job.done = chance.randrange(len(job.tasks))


def waited_for(chance, job, problem):
    """Another job comes after the copy, not after the first one."""
    problem.jobs.append(schedule.small_problem(chance).jobs[0])
    problem.jobs[-1].claims, problem.jobs[-1].after = [], []
    problem.jobs[-1].after.append((problem.jobs.index(job), chance.randrange(len(job.tasks))))


def waited_for_at_another_task(chance, job, problem):
    """Another job comes after a task of the first one and after another task of the copy."""
    copied = len(problem.jobs) - 1
    first = chance.randrange(len(job.tasks))
    last = schedule.small_problem(chance).jobs[0]
    last.claims, last.after = [], [(0, first), (copied, (first + 1) % len(job.tasks))]
    problem.jobs.append(last)


def nothing(chance, job, problem):
    pass


CHANGES = (longer, waits_longer, waits_less_long, other_hands, other_in_break, takes_another_amount, keeps_longer,
           keeps_until_another_task, worth_another, urgent, done_earlier, waited_for, waited_for_at_another_task, nothing)


def near_twins(chance, change):
    """A small problem with a job twice, the second or the first of the two changed."""
    while True:
        problem = schedule.small_problem(chance)
        if len(problem.jobs) > 2:
            continue
        one = problem.jobs[0]
        one.after = []
        problem.jobs = problem.jobs[:1] if chance.random() < 0.5 else problem.jobs
        other = copy.deepcopy(one)
        problem.jobs.append(other)
        change(chance, chance.choice((one, other)), problem)
        try:
            return problem, schedule.EverySecond(problem).best()
        except schedule.TooLarge:
            continue


def main():
    if not os.path.exists(DRIVER):
        harness.skip("twins", "driver_schedule is not built")
        harness.end()
    for number, change in enumerate(CHANGES):
        chance = random.Random(20260400 + number)
        problems, best = zip(*(near_twins(chance, change) for _ in range(ROUNDS)))
        answers = solved(problems)
        wrong = [wrong for problem, answer in zip(problems, answers) for wrong in wrong_in(problem, answer)]
        wrong += [f"{answer.key(problem)}, every second {expected}\n{problem.words()}"
                  for problem, answer, expected in zip(problems, answers, best) if answer.key(problem) != expected]
        harness.check(not wrong, f"{ROUNDS} pairs of jobs: {change.__name__.replace('_', ' ')}", "\n".join(wrong[:3]))
    harness.end()


if __name__ == "__main__":
    main()
