#!/usr/bin/env python3
# builds: plain
# lasts: 30
# timeout: 600
"""Two timelines of the same processes: the program's, and a second one that is made of docs/language.md,
docs/formulas.md and docs/cues.md alone (reckoning.py), for random recipes in any spelling (chance.py, wording.py).
Every instant of every step, every cue, the totals, and what is found or refused on account of time have to be the same;
and CSV, WebVTT and text have to say what JSON says. Second timelines that are wrong in one rule (wrongs.py) have to be
found out, and the mix of cases has to be broad (features.py).

    twice.py [--cases N] [--seed S] [--wrong NAME] [--features]

A case is one run of one process; the cases of a seed are always the same. With --wrong the program is compared with a
second timeline that is wrong, to see what is printed then: a case that differs is printed as small as it can be made.
"""

import argparse
import os
import random
import sys
import tempfile
from collections import Counter

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402
from many_runs import DRIVER  # noqa: E402

from chance import Maker
from comparison import FORMS, Wanted, declared_findings, difference
from features import features
from reckoning import Reckoning, TooNear
from runs import run_all
from shrinking import shrunk
from wording import Wording, options
from wrongs import WRONG

SEED = "saltmarsh"
CASES = 10_000
MANY = 5_000  # fewer cases are for a quick look: they need not have everything
AT_ONCE = 400
KEPT = 1500  # cases for the second timelines that are wrong
SHOWN = 3
LEAST = 0.02  # of all cases have to have each feature


class Trial:
    """A case, the file it stands in, and what came of its runs."""

    def __init__(self, case, path, others):
        self.case, self.path, self.others = case, path, others
        self.run = self.other_form = self.other_run = None

    def words(self, form="json"):
        return ["cues", "--to", form, "--max-errors=0", *options(self.case), self.path]


def write(case, path, chance):
    with open(path, "w", encoding="utf-8") as file:
        file.write(Wording(chance).recipe(case.recipe))


class Comparison:
    """Compares so many cases of a seed."""

    def __init__(self, seed, wanted_cases, kind, folder):
        self.seed, self.wanted_cases, self.kind, self.folder = seed, wanted_cases, kind, folder
        self.count = self.too_near = self.refused = self.in_other_forms = 0
        self.features, self.differing, self.kept, self.made = Counter(), [], [], 0

    def some_trials(self):
        """The next recipes in files, a trial for each of their processes."""
        trials = []
        while len(trials) < min(AT_ONCE, self.wanted_cases - self.count):
            seed = f"{self.seed}-{self.made}"
            chance, path = random.Random(seed), os.path.join(self.folder, f"{self.made}.wet")
            cases = Maker(chance, seed).cases()
            self.made += 1
            try:
                others = declared_findings(cases[0].recipe, self.kind)
            except TooNear:
                self.too_near += 1
                continue
            write(cases[0], path, chance)
            trials += [Trial(case, path, others) for case in cases]
        return trials

    def run(self, trials):
        """Runs them all, and every fourth in another format too; False where the program ended early."""
        others = trials[::4]
        for number, trial in enumerate(others):
            trial.other_form = list(FORMS)[number % len(FORMS)]
        runs = run_all([trial.words() for trial in trials] + [trial.words(trial.other_form) for trial in others])
        if runs is None:
            return False
        for trial, run in zip(trials, runs):
            trial.run = run
        for trial, run in zip(others, runs[len(trials):]):
            trial.other_run = run
        return True

    def judge(self, trial):
        self.count += 1
        try:
            wanted = Wanted(trial.case, self.kind, trial.others)
        except TooNear:
            self.too_near += 1
            return
        self.features.update(features(trial.case, wanted))
        self.refused += bool(wanted.refusals)
        what = difference(wanted, trial.run, trial.path)
        if what is None and trial.other_run and not wanted.refusals:
            self.in_other_forms += 1
            what = FORMS[trial.other_form](wanted.reckoning, trial.other_run.output)
        if what is not None:
            self.differing.append((trial, what))

    def go(self):
        while self.count < self.wanted_cases and len(self.differing) < SHOWN:
            trials = self.some_trials()
            if not self.run(trials):
                self.differing.append((trials[0], "the program ended before all was run"))
                return
            for trial in trials:
                self.judge(trial)
            self.kept += trials[:max(0, KEPT - len(self.kept))]
            for path in {trial.path for trial in trials} - {trial.path for trial in self.kept}:
                os.remove(path)


def smallest(trial, what, kind, folder):
    """A case that differs in the same way, as small as it can be made: its trial, and what differs."""
    path, found = os.path.join(folder, "smaller.wet"), [trial, what]

    def still_differs(case):
        smaller = Trial(case, path, None)
        try:
            wanted = Wanted(case, kind)
            write(case, path, None)
            smaller.run = run_all([smaller.words()])[0]
            now = difference(wanted, smaller.run, path)
        except (TooNear, IndexError, StopIteration, ValueError, KeyError, AttributeError, TypeError):
            return False  # what is left is no recipe
        is_recipe = not {"syntax", "missing-clause"} & smaller.run.errors()
        if now is None or now.split(":")[0] != what.split(":")[0] or not is_recipe:
            return False
        found[:] = smaller, now
        return True

    if what.split(":")[0] not in FORMS and trial.run and still_differs(trial.case):
        shrunk(trial.case, still_differs)
    return found


def both_timelines(trial, kind):
    """Cues as wanted, and as the program tells them."""
    try:
        wanted = Wanted(trial.case, kind)
    except TooNear:
        return "too near to tell"
    mine, found = sorted(wanted.refusals), wanted.reckoning
    if not mine:
        mine = [f"{cue.at / 1000:>10g} {found.steps[cue.step - 1].name:12} {cue.kind}" for cue in found.cues]
    said = run_all([trial.words("text")])[0]
    return "\n".join(["wanted:", *mine, "said:", said.output.decode() or said.messages])


def show(comparison):
    for trial, what in comparison.differing[:SHOWN]:
        smaller, now = smallest(trial, what, comparison.kind, comparison.folder) if trial.run else (trial, what)
        write(smaller.case, smaller.path, random.Random(smaller.case.seed) if smaller is trial else None)
        with open(smaller.path, encoding="utf-8") as file:
            recipe = file.read()
        why = [what, now, " ".join(smaller.words()), recipe, both_timelines(smaller, comparison.kind)]
        harness.not_ok(f"seed {trial.case.seed}, {trial.case.process}", "\n".join(why))


def is_found_out(kind, trials):
    """After how many cases a wrong second timeline differs; None where it never does."""
    for number, trial in enumerate(trials, 1):
        try:
            if difference(Wanted(trial.case, kind), trial.run, trial.path) is not None:
                return number
        except TooNear:
            continue
    return None


def check_wrongs(comparison):
    for kind in WRONG:
        name = f"a second timeline that is wrong is found out: {kind.__name__}"
        harness.check(is_found_out(kind, comparison.kept), name)


def check_driver(comparison):
    """What the driver says is what the program says."""
    same = True
    for trial in comparison.kept[:200:20]:
        done = harness.run(*trial.words())
        same = same and (done.returncode, done.stdout, done.stderr.decode()) == (
            trial.run.status, trial.run.output, trial.run.messages)
    harness.check(same, "the program says what it says when it is run by the driver")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", default=SEED)
    parser.add_argument("--cases", type=int, default=CASES)
    parser.add_argument("--wrong", choices=[kind.__name__ for kind in WRONG])
    parser.add_argument("--features", action="store_true", help="print how many cases have each")
    arguments = parser.parse_args()
    if not os.path.exists(DRIVER):
        harness.skip("two timelines", "driver_lines is not built")
        harness.end()
    kind = next((kind for kind in WRONG if kind.__name__ == arguments.wrong), Reckoning)
    with tempfile.TemporaryDirectory() as folder:
        comparison = Comparison(arguments.seed, arguments.cases, kind, folder)
        comparison.go()
        show(comparison)
        harness.check(not comparison.differing, f"{comparison.count} cases: both timelines are the same; "
                      f"{comparison.refused} of them are refused, {comparison.in_other_forms} are the same as CSV, "
                      "WebVTT or text")
        harness.check(comparison.too_near <= comparison.count / 1000, "hardly any time is too near a half to tell",
                      comparison.too_near)
        if kind is Reckoning and not comparison.differing:
            check_driver(comparison)
            if arguments.cases >= MANY:
                check_wrongs(comparison)
    rare = {name: number for name, number in comparison.features.items() if number < LEAST * comparison.count}
    if arguments.features:
        for name, number in comparison.features.most_common():
            print(f"{number / comparison.count:7.1%} {name}")
    if kind is Reckoning and not comparison.differing and arguments.cases >= MANY:
        name = f"each of {len(comparison.features)} features is in {LEAST:.0%} of the cases or more"
        harness.check(not rare, name, rare)
    harness.end()


if __name__ == "__main__":
    sys.exit(main())
