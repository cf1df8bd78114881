"""What the scripts of this suite share: running a case with each of its calls failing, and reading what came of it."""

import collections
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import ROOT, WETSIDE  # noqa: E402

LIBRARY = os.path.join(ROOT, "build", "faults", "injector.so")
FINE = os.path.join(ROOT, "build", "faults", "wetside")  # its arena asks the system for each allocation

# What came of one run: the call that failed (and whether it came to that), how many calls there were, exit status
# (negative: a signal), bytes on standard output, blocks of memory not given back, standard error, and the files of the
# folder with their hashes.
Run = collections.namedtuple("Run", "number count failed status out left errors files")
NEVER = 10**9


def read_report(path):
    """The runs of a report, the one without a failure last."""
    with open(path, "rb") as file:
        data = file.read()
    runs, at = [], 0
    while at < len(data):
        end = data.index(b"\n", at)
        number, count, failed, status, out, left, length = (int(word) for word in data[at:end].split())
        errors = data[end + 1:end + 1 + length]
        at = end + 1 + length
        end = at if data[at:at + 1] == b"\n" else data.index(b"\n\n", at) + 1
        files = dict(line.rsplit(" ", 1) for line in data[at:end].decode().splitlines())
        at = end + 1
        status = os.waitstatus_to_exitcode(status)
        runs.append(Run(number, count, bool(failed), status, out, left, errors.decode("utf-8", "replace"), files))
    return runs


def inject(case, folder, scratch, call="memory", how="", goes_on=False, program=WETSIDE, most=NEVER, path="", last=0):
    """Runs the program once for each call of a kind that it makes (and evenly spread ones of them, where they are more than
    `most`; with `last`, the last so many), and lets that call fail. `folder` is where it runs; what is left there is looked at after each run."""
    def run_turns(turns):
        return run_injected(case, folder, scratch, program, path,
                            {"CALL": call, "HOW": how, "ON": "yes" if goes_on else "no", **turns})

    turns = {"FIRST": 1, "DENSE": NEVER, "STRIDE": 1}
    if most < NEVER or last:
        count = run_turns({"FIRST": 1, "DENSE": 0, "STRIDE": NEVER})[-1].count
        dense = min(most // 2, 10)
        turns = {"FIRST": max(1, count - last + 1), "DENSE": NEVER, "STRIDE": 1} if last else {
            "FIRST": 1, "DENSE": dense, "STRIDE": max(1, -(-(count - dense) // (most - dense)))}
    return run_turns(turns)


def run_injected(case, folder, scratch, program, path, settings):
    report = os.path.join(scratch, "report")
    before = os.path.join(folder, case.before) if case.before else ""
    settings = {**settings, "REPORT": report, "SCRATCH": scratch, "TARGET": case.target, "BEFORE": before, "OTHER": case.other,
                "PATH": path}
    environment = dict(os.environ, LD_PRELOAD=LIBRARY, **{f"INJECT_{name}": str(value) for name, value in settings.items()})
    with open(os.path.join(folder, case.stdin) if case.stdin else os.devnull, "rb") as given:
        done = subprocess.run([program, *case.words], cwd=folder, env=environment, stdin=given, stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"the injector itself failed: {done.returncode} {done.stdout!r}")
    return read_report(report)


def files_of(case, clean):
    """The files of the folder as they were before the run."""
    files = {name: value for name, value in clean.files.items() if name not in (case.target, case.other)}
    if case.before:
        files[case.target] = clean.files[case.before]
    return files


def own_lines(errors):
    """The lines of standard error that the program says for itself, without findings, their excerpts and their count."""
    return [line for line in errors.splitlines() if re.match(r"wetside: (?!\d+ (?:error|warning|hint))", line)]
