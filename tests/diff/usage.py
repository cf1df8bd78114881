#!/usr/bin/env python3
"""How `wetside diff` and `wetside model` are called, and their statuses: diff ends as diff(1) does."""

import os
import re
import tempfile

import recipes
from harness import check, end, run

BASE, LATER = recipes.BASE, recipes.edited([("for 8:00 {", "for 9:15 {")])
NOTED = recipes.edited([("Watch the clock.", "Watch both clocks.")])
BROKEN = recipes.edited([("metol 2 g", "metol 2 m")])
SHELF = recipes.declarations(BASE)[0] + "".join(
    piece for piece in recipes.declarations(BASE)[1] if not piece.startswith(("process", "allow", "on hand")))
FILES = {"base.wet": BASE, "later.wet": LATER, "noted.wet": NOTED, "broken.wet": BROKEN, "empty.wet": "wetside 1\n",
         "shelf.wet": SHELF, "shelf-2.wet": SHELF.replace("dilute 1+19", "dilute 1+29"),
         "user.wet": 'wetside 1\nuse "base.wet"\n'}
TIME = b"  develop: 8:00 \xe2\x86\x92 9:15; agitations 8 \xe2\x86\x92 9; total +1:15; window unchanged\n"


def judge(name, words, status, said=b"", complaint=b"", **more):
    """Status; `said` is in what is written, or nothing is written; `complaint` stands on standard error, or nothing."""
    done = run(*words, **more)
    fits = done.returncode == status and (said in done.stdout if said else not done.stdout) and \
        (complaint in done.stderr if complaint else not done.stderr)
    check(fits, name, f"status {done.returncode}\n{done.stdout.decode()}{done.stderr.decode()}")


def judge_statuses(at):
    judge("0 where nothing differs", ["diff", "base.wet", "base.wet"], 0, **at)
    judge("1 where a run differs", ["diff", "base.wet", "later.wet"], 1, TIME, **at)
    judge("0 where titles or notes differ, and they are told", ["diff", "base.wet", "noted.wet"], 0, b"wording only", **at)
    judge("2 for a recipe with errors, and its findings", ["diff", "base.wet", "broken.wet"], 2, b"", b"[wrong-unit]", **at)
    judge("2 for an old one with errors", ["diff", "broken.wet", "base.wet"], 2, b"", b"[wrong-unit]", **at)
    judge("2 for a file that is not there", ["diff", "base.wet", "none.wet"], 2, b"", b"cannot read `none.wet`", **at)
    judge("standard input is a side", ["diff", "-", "later.wet"], 1, TIME, stdin=BASE.encode(), **at)
    judge("or the other", ["diff", "base.wet", "-"], 1, TIME, stdin=LATER.encode(), **at)
    judge("but not both", ["diff", "-", "-"], 2, b"", b"one of the two", **at)
    judge("all processes are new", ["diff", "empty.wet", "base.wet"], 1, b"film: new: 5 steps, bath time at least 23:30\n", **at)
    judge("all are gone", ["diff", "base.wet", "empty.wet"], 1, b"film: removed: 5 steps", **at)
    judge("files without processes", ["diff", "shelf.wet", "shelf-2.wet"], 1,
          b"declarations\n  bath stop-bath: dilution 1+19 \xe2\x86\x92 1+29\n", **at)
    judge("2 where it cannot be written", ["diff", "base.wet", "later.wet", "-o", "none/x"], 2, b"", b"cannot write", **at)
    judge("the recipe is not overwritten", ["diff", "base.wet", "later.wet", "-o", "base.wet"], 2, b"",
          b"names one of the recipes", **at)


def judge_processes(at):
    done = run("diff", "shelf-2.wet", "base.wet", **at), run("diff", "base.wet", "shelf-2.wet", **at)
    for each, word in zip(done, (b"new", b"removed")):
        check(all(name + b": " + word + b": " in each.stdout for name in (b"film", b"film-push-1")),
              f"two processes are {word.decode()}, and both are told", each.stdout.decode())
    push = b"film \xe2\x86\x92 film-push-1\n  push not said \xe2\x86\x92 +1\n"
    pull = b"film-push-1 \xe2\x86\x92 film\n  push +1 \xe2\x86\x92 not said\n"
    judge("a variant against what it varies", ["diff", "--process", "film-push-1", "base.wet"], 1, push, **at)
    judge("two processes of a file", ["diff", "--process=film-push-1", "--with=film", "base.wet"], 1, pull, **at)
    judge("two processes of two files", ["diff", "--process=film", "--with=film-push-1", "base.wet", "later.wet"], 1, push, **at)
    judge("one process of two files", ["diff", "--process=film", "base.wet", "later.wet"], 1, b"film\n" + TIME, **at)
    judge("another that stays", ["diff", "--process=film-push-1", "base.wet", "later.wet"], 0, **at)
    judge("no such process", ["diff", "--process=flim", "base.wet", "later.wet"], 2, b"", b"`film`, `film-push-1`", **at)
    judge("no such process in one file", ["diff", "--process=flim", "base.wet"], 2, b"", b"`film`, `film-push-1`", **at)
    judge("no such other process", ["diff", "--process=film", "--with=x", "base.wet"], 2, b"", b"no process is called `x`", **at)
    judge("a process that varies nothing", ["diff", "--process=film", "base.wet"], 2, b"", b"varies no other process", **at)
    judge("one file alone", ["diff", "base.wet"], 2, b"", b"wants OLD and NEW", **at)
    judge("three files", ["diff", "base.wet", "base.wet", "base.wet"], 2, b"", b"wants OLD and NEW", **at)
    judge("--with alone", ["diff", "--with=film", "base.wet"], 2, b"", b"--with wants --process", **at)
    git = ["diff", "--to=json", "film.wet", "base.wet", "0" * 40, "100644", "later.wet", "0" * 40, "100644"]
    judge("an external diff of git is text", git, 2, b"", b"is text", **at)
    git[1] = "--"
    judge("and its status is 0", git, 0, b"film.wet\nfilm\n" + TIME, **at)
    git[6] = "none.wet"
    judge("also of a file that cannot be read", git, 0, b"film.wet\n  the new text cannot be read\n", b"cannot read", **at)
    judge("an option that is not taken", ["diff", "--room=20C", "base.wet", "base.wet"], 2, b"", b"takes no --room", **at)


def judge_model(at):
    judge("a model of a broken recipe", ["model", "broken.wet"], 1, b"", b"[wrong-unit]", **at)
    shown = b"This recipe has errors; it is shown as it is written.\nwetside 1\n"
    judge("a forgiving one", ["model", "--to=text", "--forgiving", "broken.wet"], 0, shown, **at)
    judge("a forgiving one of a good recipe", ["model", "--to=text", "--forgiving", "base.wet"], 0, b"\nprocess film\n", **at)
    judge("no data of a broken recipe", ["model", "--forgiving", "broken.wet"], 2, b"", b"goes with --to text", **at)
    judge("a forgiving one of nothing", ["model", "--to=text", "--forgiving", "none.wet"], 2, b"", b"cannot read", **at)
    judge("no such process in a model", ["model", "--process=x", "base.wet"], 2, b"", b"`film`, `film-push-1`", **at)
    chosen = run("model", "--to=text", "--process=film", "base.wet", **at).stdout.decode()
    check(re.findall(r"^process (\S+)$", chosen, re.M) == ["film"], "a model of one process", chosen)
    steps = re.findall(r"^  step (\S+)$", chosen, re.M)
    check(steps == ["develop", "stop", "fix", "wash", "dry"], "with its steps in order", steps)


def main():
    with tempfile.TemporaryDirectory() as folder:
        for name, text in FILES.items():
            recipes.write(folder, name, text)
        at = {"cwd": folder}
        judge_statuses(at)
        judge_processes(at)
        judge_model(at)
        check(sorted(os.listdir(folder)) == sorted(FILES), "nothing is left behind")
    end()


if __name__ == "__main__":
    main()
