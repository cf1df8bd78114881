#!/usr/bin/env python3
# builds: plain
# timeout: 600
"""A second timeline, written from docs/language.md and docs/cues.md alone (second_timeline.py), against `wetside cues
--to json`: every instant of every step, every cue, the totals and the findings about agitation, for random processes
(random_recipes.py) with random vessels, bath times, agitation, variants and conditions of the run.

    timeline_twice.py [--cases N] [--seed S] [--keep FOLDER]

The processes of a seed are always the same. --keep leaves the sources of what differs in a folder.
"""

import argparse
import json
import os
import random
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, not_ok, run  # noqa: E402
from random_recipes import decimal_text, random_case  # noqa: E402
from second_timeline import ABOUT_AGITATION, Cue, timeline  # noqa: E402

FINDING = re.compile(r"^.*?:(\d+):\d+: (\w+): (.*) \[([a-z-]+)\]$", re.M)


def milliseconds(seconds):
    return None if seconds is None else round(seconds * 1000)


def name_above(lines, pattern):
    """The name that the last of these lines to fit a pattern gives."""
    return next(found.group(1) for found in (re.match(pattern, line) for line in reversed(lines)) if found)


def findings_said(case, messages):
    """The findings of a file: those about agitation as (process, step, id) of the sentence they stand in; other errors."""
    lines, about, errors = case.source.splitlines(), set(), []
    for line, severity, text, name in (match.groups() for match in FINDING.finditer(messages)):
        if name in ABOUT_AGITATION:
            above = lines[:int(line)]
            about.add((name_above(above, r"process (\S+)"), name_above(above, r" +step (\S+)"), name))
        elif severity == "error":
            errors.append(f"{line}: {text} [{name}]")
    return about, errors


def compare_findings(case, runs, path):
    """What differs between what is said of agitation and what the timelines ask for; whether the file is refused."""
    done = run("check", "--max-errors=0", path)
    said, errors = findings_said(case, done.stderr.decode())
    asked = set()
    for process, declared in zip(case.processes, runs):
        asked |= {(*process.steps[number - 1].agitated_in, name) for number, name in declared.findings}
    wrong = errors + [f"not expected: {some}" for some in sorted(said - asked)]
    wrong += [f"not reported: {some}" for some in sorted(asked - said)]
    refused = any(name == "agitation-overlaps" for _, _, name in asked)
    if done.returncode != int(refused):
        wrong.append(f"exit status {done.returncode}")
    return wrong, refused


def compare(case, process, mine, path):
    """What differs between the two timelines of one process, as lines."""
    options = [f"--at={step.name}={decimal_text(step.at)} °C" for step in process.steps if step.at is not None]
    done = run("cues", "--to=json", "--process", process.name, "--max-errors=0", *options, path)
    if done.returncode:
        return [f"exit status {done.returncode}", *findings_said(case, done.stderr.decode())[1]]
    value = json.loads(done.stdout)
    wrong = []
    for step, place, got in zip(process.steps, mine.moments, value["steps"]):
        for key, wanted in zip(("pour_s", "full_s", "start_s", "time_end_s", "drain_s", "end_s", "latest_end_s",
                                "light_s"), place):
            if milliseconds(got[key]) != wanted:
                wrong.append(f"{step.name}: {key} is {milliseconds(got[key])}, not {wanted}")
        if got["role"] != (step.as_role or step.role):
            wrong.append(f"{step.name}: role is {got['role']}, not {step.as_role or step.role}")
    if len(value["steps"]) != len(process.steps):
        wrong.append(f"{len(value['steps'])} steps, not {len(process.steps)}")
    found = sorted((Cue(milliseconds(cue["at_s"]), cue["step"], cue["kind"], milliseconds(cue["until_s"]), cue["count"],
                        cue["rings"], cue["assumes_earliest_end"]) for cue in value["cues"]), key=str)
    asked = sorted(mine.cues, key=str)
    wrong += [f"not expected: {cue}" for cue in found if cue not in asked]
    wrong += [f"missing: {cue}" for cue in asked if cue not in found]
    if len(found) != len(asked):
        wrong.append(f"{len(found)} cues, not {len(asked)}")
    places_of_cues = [(cue["at_s"], cue["step"]) for cue in value["cues"]]
    if places_of_cues != sorted(places_of_cues):
        wrong.append("the cues are not in order of time, then step")
    for key, wanted in mine.totals.items():
        if milliseconds(value["totals"][key]) != wanted:
            wrong.append(f"{key} is {milliseconds(value['totals'][key])}, not {wanted}")
    return wrong


def judge(case, path):
    """What differs for each process of a file: {name: lines}; findings are of the whole file, under None."""
    with open(path, "w", encoding="utf-8") as file:
        file.write(case.source)
    whole = [(case.tanks[process.tank], case.solutions, case.correction) for process in case.processes]
    declared = [timeline(process.as_declared(), *rest) for process, rest in zip(case.processes, whole)]
    wrong, refused = compare_findings(case, declared, path)
    differing = {None: wrong} if wrong else {}
    for process, rest in zip(case.processes, whole) if not refused and not wrong else ():
        wrong = compare(case, process, timeline(process, *rest), path)
        if wrong:
            differing[process.name] = wrong
    return differing, refused


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cases", type=int, default=2000, help="how many processes (2000)")
    parser.add_argument("--seed", type=int, default=1, help="which (1)")
    parser.add_argument("--keep", metavar="FOLDER", help="leave the sources of what differs here")
    options = parser.parse_args()
    chance = random.Random(options.seed)
    files = compared = refusals = differing = 0
    with tempfile.TemporaryDirectory() as folder:
        while compared < options.cases:
            case = random_case(chance)
            files += 1
            wrong, refused = judge(case, os.path.join(folder, "recipe.wet"))
            compared += 0 if refused else len(case.processes)
            refusals += refused
            differing += bool(wrong)
            for name, lines in wrong.items() if differing <= 10 else ():
                not_ok(f"file {files} of seed {options.seed}, {name or 'findings'}", "\n".join(lines[:12]))
            if wrong and options.keep:
                with open(os.path.join(options.keep, f"{files}.wet"), "w", encoding="utf-8") as kept:
                    kept.write(case.source)
    check(not differing, f"{compared} random processes have the instants, cues and totals of docs/language.md, and in "
          f"{files} files ({refusals} of them refused) the findings about agitation", f"{differing} files differ")
    end()


if __name__ == "__main__":
    main()
