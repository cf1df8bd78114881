#!/usr/bin/env python3
"""Every example is free of findings, and every process and day in it goes through every emitter: something comes out,
nothing is said. Under valgrind the first process of each file stands for the file, and each file goes through a part of
the emitters, so that all of them have their turn."""
# builds: plain asan valgrind
# timeout: 600

import glob
import os
import re
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import harness  # noqa: E402


ELSEWHERE = ("diff", "review")  # two processes, a log: tests/diff, tests/review
OF_A_DAY = ("plan", "lists")
PARTS = 4


def judge(name, *arguments, is_silent=False):
    """Runs the program; it must end well, say nothing, and write something (or, where `is_silent`, nothing)."""
    completed = harness.run(*arguments, timeout=300)
    fits = completed.returncode == 0 and not completed.stderr and bool(completed.stdout) != is_silent
    harness.check(fits, name, lambda: f"status {completed.returncode}, {len(completed.stdout)} bytes\n"
                  + completed.stderr.decode("utf-8", "replace"))


def main():
    emitters = [(row[0], row[1]) for row in definitions.rows("emit/emitters.def", "EMITTER")]
    is_slow = os.environ.get("WETSIDE_BUILD") == "valgrind"
    for number, path in enumerate(sorted(glob.glob(os.path.join(harness.ROOT, "examples", "*.wet")))):
        path = os.path.relpath(path, harness.ROOT)
        processes = re.findall(r"^process\s+(\S+)", harness.read(path), re.MULTILINE)
        judge(path, "check", path, is_silent=True)
        for process in processes[:1] if is_slow else processes:
            for turn, (product, form) in enumerate(emitters):
                if product in ELSEWHERE or product in OF_A_DAY or is_slow and (turn + number) % PARTS:
                    continue
                if form == "wav" and is_slow and number > PARTS:  # an hour of silence is the same everywhere
                    continue
                judge(f"{path}: {process}: {product} --to {form}", product, "--process", process, "--to", form, path)
        for day in re.findall(r"^day\s+(\S+)", harness.read(path), re.MULTILINE):
            for product, form in emitters:
                if product in OF_A_DAY and not (is_slow and form not in ("html", "ics")):
                    judge(f"{path}: {day}: {product} --to {form}", product, "--day", day, "--to", form, path)
    harness.end()


main()
