#!/usr/bin/env python3
"""Options in every order and form, wrong usage, and the exit statuses: 0 fine, 1 the recipe has errors, 2 it could not
be done. A message says what was wrong in one line that begins with the program's name, and nothing is written."""

import itertools
import os
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402

RECIPE = """wetside 1
tank jar { holds 600 mL; fill 5 s; drain 5 s; takes 2 x 135 }
solution developer { role developer; dilute 1+9; reuse; usable 15 .. 30 °C; hazards H317; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
process one {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 °C for 9:00 { agitate first 30 s, then 5 s every 30 s; coefficient 8 % per K }
  step fix in fixer at 20 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }
}
"""
SECOND = "process two from one { push 1; step develop for 12:00 }\n"
WRONG = RECIPE.replace("9:00", "9 kg")
WARNED = RECIPE.replace("9:00", "4:00")


def judge(name, arguments, status, message=b"", writes=None, **more):
    """Runs the program and judges status, message and whether standard output is written (only where all is well)."""
    done = run(*arguments, **more)
    writes = status == 0 if writes is None else writes
    fits = done.returncode == status and bool(done.stdout) == writes and message in done.stderr
    return check(fits, name, f"status {done.returncode}, {len(done.stdout)} bytes written\n{done.stderr.decode()}")


def check_orders(folder):
    """Options may stand before and after the command and the file, also where the environment asks for POSIX order."""
    pieces = [["--to", "csv"], ["--process=two"], ["-Ielsewhere"], ["both.wet"]]
    wanted = run("cues", "--to", "csv", "--process=two", "both.wet", cwd=folder).stdout
    for environment in ({}, {"POSIXLY_CORRECT": "1"}):
        wrong = []
        for order in itertools.permutations(pieces):
            for place in range(len(order) + 1):
                words = [*order[:place], ["cues"], *order[place:]]
                if words.index(["cues"]) > words.index(["both.wet"]):
                    continue
                words = [word for piece in words for word in piece]
                done = run(*words, cwd=folder, environment=environment)
                if done.returncode != 0 or done.stdout != wanted:
                    wrong.append(" ".join(words))
        check(wanted and not wrong, f"options in every order {environment or ''}".rstrip(), "\n".join(wrong[:5]))


def check_forms(folder):
    judge("- reads standard input", ["cues", "-"], 0, stdin=RECIPE.encode(), cwd=folder)
    judge("-- ends the options", ["cues", "--", "one.wet"], 0, cwd=folder)
    judge("a file may begin with a hyphen", ["cues", "--", "-o.wet"], 0, cwd=folder)
    judge("behind -- a word is a file", ["cues", "--", "--to"], 2, b"cannot read `--to`", cwd=folder)
    judge("a long option may be cut short", ["cues", "--proc=one", "both.wet"], 0, cwd=folder)
    judge("a letter and its argument may be one word", ["cues", "-o-", "one.wet"], 0, cwd=folder)
    judge("the last of an option that may not be repeated counts", ["cues", "--to=vtt", "--to=csv", "one.wet"], 0,
          cwd=folder)


def check_statuses(folder):
    judge("0 where all is well", ["cues", "one.wet"], 0, cwd=folder)
    judge("0 for warnings", ["cues", "warned.wet"], 0, b"development-too-short", cwd=folder)
    judge("1 for warnings that are denied", ["cues", "--deny-warnings", "warned.wet"], 1, b"warning", cwd=folder)
    judge("1 for errors", ["cues", "wrong.wet"], 1, b"[wrong-unit]", cwd=folder)
    judge("1 without a process", ["cues", "empty.wet"], 1, b"declares no process", cwd=folder)
    judge("2 for a file that is not there", ["cues", "none.wet"], 2, b"there is no such file", cwd=folder)
    judge("2 for a folder", ["cues", "."], 2, b"it is a folder", cwd=folder)
    judge("2 for a pipe", ["cues", "pipe"], 2, b"it is a pipe", cwd=folder)
    judge("2 for a device", ["cues", "/dev/null"], 2, b"it is a device", cwd=folder)
    judge("check: the worst of all files", ["check", "one.wet", "wrong.wet", "warned.wet"], 1, cwd=folder)
    judge("check: goes on behind a file that is not there", ["check", "none.wet", "wrong.wet"], 2, b"[wrong-unit]",
          cwd=folder)
    judge("check: is silent where all is well", ["check", "one.wet"], 0, writes=False, cwd=folder)
    judge("2 where a process has to be chosen", ["cues", "both.wet"], 2, b"`one`, `two`", cwd=folder)
    judge("2 for a process that is not there", ["cues", "--process=three", "both.wet"], 2, b"`one`, `two`", cwd=folder)
    judge("1 for a step that is not there", ["cues", "--at=devlop=20C", "one.wet"], 1, b"no step is called `devlop`",
          cwd=folder)
    judge("1 for a solution that is not there", ["cues", "--done=devloper=2", "one.wet"], 1,
          b"no solution is called `devloper`", cwd=folder)


def check_usage(folder):
    cases = [
        ([], b"a command is wanted"),
        (["ceus"], b"did you mean `cues`?"),
        (["cues"], b"wants one FILE"),
        (["check"], b"wants a FILE"),
        (["cues", "one.wet", "both.wet"], b"wants one FILE"),
        (["cues", "--frob", "one.wet"], b"`--frob` is not an option"),
        (["cues", "--proces=one", "one.wet", "--pricess=one"], b"did you mean `process`?"),
        (["cues", "-x", "one.wet"], b"`-x` is not an option"),
        (["cues", "one.wet", "--to"], b"`--to` wants an argument"),
        (["cues", "one.wet", "-o"], b"`-o` wants an argument"),
        (["cues", "one.wet", "-o", ""], b"wants the name of a file"),
        (["cues", "--to=pdf", "one.wet"], b"has no format `pdf`"),
        (["check", "--to=csv", "one.wet"], b"takes no --to"),
        (["explain", "--process=one", "carry-over"], b"takes no --process"),
        (["explain", "carry-ovr"], b"did you mean `carry-over`?"),
        (["explain"], b"wants a WORD"),
        (["check", "--max-errors=x", "one.wet"], b"takes a number"),
        (["check", "--max-errors=-1", "one.wet"], b"takes a number"),
        (["check", "--max-errors=99999999999999999999", "one.wet"], b"takes a number"),
        (["check", "--color=red", "one.wet"], b"auto, always or never"),
        (["cues", "--at=develop", "one.wet"], b"wants STEP=TEMPERATURE"),
        (["cues", "--at==20C", "one.wet"], b"wants STEP=TEMPERATURE"),
        (["cues", "--at=develop=20", "one.wet"], b"has no unit"),
        (["cues", "--at=develop=20kg", "one.wet"], b"is another kind of figure"),
        (["cues", "--at=develop=2000C", "one.wet"], b"lies outside"),
        (["cues", "--at=develop=20C", "--at=develop=21C", "one.wet"], b"is given twice"),
        (["cues", "--done=developer=many", "one.wet"], b"`many`"),
        (["cues", "--room=warm", "one.wet"], b"`warm`"),
        (["cues", "--on=2026-02-30", "one.wet"], b"a day of the calendar"),
    ]
    for words, message in cases:
        done = run(*words, cwd=folder)
        lines = done.stderr.decode().splitlines()
        fits = (done.returncode == 2 and not done.stdout and message in done.stderr and len(lines) == 1 and
                lines[0].startswith("wetside: "))
        check(fits, f"wrong usage: {' '.join(words) or '(nothing)'}",
              f"status {done.returncode}\n{done.stderr.decode()}")


def check_hostile_words(folder):
    """What comes from the command line reaches the terminal without its control characters."""
    bad = "\x1b[31m\x07\u202e"
    for words in ([bad], ["cues", f"--{bad}", "one.wet"], ["cues", f"--to={bad}", "one.wet"], ["cues", bad],
                  ["cues", f"--process={bad}", "both.wet"], ["cues", "-o", f"no/{bad}", "one.wet"], ["explain", bad],
                  ["cues", f"--at={bad}=20C", "one.wet"], ["cues", f"--at={bad}=2C", f"--at={bad}=2C", "one.wet"],
                  ["cues", f"--done=developer={bad}", "one.wet"], ["cues", f"--room={bad}", "one.wet"]):
        done = run(*words, cwd=folder)
        text = done.stderr.decode()
        check(done.returncode in (1, 2) and not any(mark in text for mark in bad if mark not in "[31m"),
              f"harmless: {' '.join(words)!r}", repr(text))


def main():
    with tempfile.TemporaryDirectory() as folder:
        for name, text in (("one.wet", RECIPE), ("both.wet", RECIPE + SECOND), ("wrong.wet", WRONG),
                           ("warned.wet", WARNED), ("-o.wet", RECIPE), ("empty.wet", "wetside 1\n")):
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)
        os.mkfifo(os.path.join(folder, "pipe"))
        check_orders(folder)
        check_forms(folder)
        check_statuses(folder)
        check_usage(folder)
        check_hostile_words(folder)
    end()


if __name__ == "__main__":
    main()
