#!/usr/bin/env python3
"""Every example is free of findings, and every process and day in it goes through every emitter: something comes out,
nothing is said. The sanitizers and valgrind see all that in one process; a day, which takes long to plan, goes through every
emitter with a few of its rolls, whole through one, and under valgrind through none. There the first process of each file
stands for the file, and each file goes through a part of the emitters, so that all of them have their turn."""
# builds: plain asan valgrind
# lasts: 27
# timeout: 600

import glob
import os
import re
import shutil
import sys
import tempfile

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import harness  # noqa: E402
import many_runs  # noqa: E402

BUILD = os.environ.get("WETSIDE_BUILD", "plain")
ELSEWHERE = ("diff", "review")  # two processes, a log: tests/diff, tests/review
OF_A_DAY = ("plan", "lists")
PARTS = 4
FEW = 9  # lines of a rolls file: its head and some rolls
# What a day of few rolls has no need of would be a finding.
UNUSED = re.compile(r"^  allow (?:past-finish|dryer-full) .*\n", re.MULTILINE)


class Run:
    """A command line, and what is wanted of it: to write something, or to be silent."""

    def __init__(self, name, *words, is_silent=False):
        self.name, self.words, self.is_silent = name, [*words], is_silent
        self.product = None

    def into(self, folder):
        """Its command line. A sound track, which is large, goes into a file."""
        if "wav" not in self.words:
            return self.words
        self.product = os.path.join(folder, f"{id(self)}.wav")
        return [self.words[0], "-o", self.product, *self.words[1:]]

    def judge(self, status, output, said):
        count = len(output)
        if self.product and os.path.exists(self.product):
            count = os.path.getsize(self.product)
            os.remove(self.product)
        harness.check(status == 0 and not said and bool(count) != self.is_silent, self.name,
                      lambda: f"status {status}, {count} bytes\n" + said.decode("utf-8", "replace"))


def runs_of(number, path, emitters):
    """What an example is put through."""
    is_part = BUILD == "valgrind"
    text = harness.read(path)
    days = re.findall(r"^day\s+(\S+)", text, re.MULTILINE)
    if not (is_part and days):
        yield Run(path, "check", path, is_silent=True)
    processes = re.findall(r"^process\s+(\S+)", text, re.MULTILINE)
    for process in processes[:1] if is_part else processes:
        for turn, (product, form) in enumerate(emitters):
            if product in ELSEWHERE or product in OF_A_DAY or is_part and (turn + number) % PARTS:
                continue
            if form == "wav" and is_part and number > PARTS:  # an hour of silence is the same everywhere
                continue
            yield Run(f"{path}: {process}: {product} --to {form}", product, "--process", process, "--to", form, path)
    for day in days:
        for product, form in emitters:
            if product in OF_A_DAY and (BUILD == "plain" or (product, form) == ("plan", "html") and not is_part):
                yield Run(f"{path}: {day}: {product} --to {form}", product, "--day", day, "--to", form, path)


def runs_of_few_rolls(folder, emitters):
    """The days of the examples, cut down to a few rolls."""
    for path in glob.glob(os.path.join(harness.ROOT, "examples", "*")):
        shutil.copy(path, folder)
    for path in sorted(glob.glob(os.path.join(folder, "*.csv"))):
        with open(path, encoding="utf-8") as file:
            lines = file.readlines()
        with open(path, "w", encoding="utf-8") as file:
            file.writelines(lines[:FEW])
    for path in sorted(glob.glob(os.path.join(folder, "*.wet"))):
        text = harness.read(path)
        with open(path, "w", encoding="utf-8") as file:
            file.write(UNUSED.sub("", text))
        for day in re.findall(r"^day\s+(\S+)", text, re.MULTILINE):
            for product, form in emitters:
                if product in OF_A_DAY:
                    yield Run(f"{os.path.basename(path)}, a few rolls: {product} --to {form}", product, "--day", day, "--to", form, path)


def judge(runs, folder):
    """Each run as a process of its own, or all in one."""
    if BUILD == "plain":
        for run in runs:
            done = harness.run(*run.into(folder), timeout=300)
            run.judge(done.returncode, done.stdout, done.stderr)
        return
    results = many_runs.run_all([run.into(folder) for run in runs], timeout=600)
    if not harness.check(results is not None, "the program comes to the end of all runs"):
        return
    for run, result in zip(runs, results):
        run.judge(*result)


def main():
    emitters = [(row[0], row[1]) for row in definitions.rows("emit/emitters.def", "EMITTER")]
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as few:
        runs = []
        for number, path in enumerate(sorted(glob.glob(os.path.join(harness.ROOT, "examples", "*.wet")))):
            runs += runs_of(number, os.path.relpath(path, harness.ROOT), emitters)
        runs += runs_of_few_rolls(few, emitters)
        judge(runs, folder)
    harness.end()


main()
