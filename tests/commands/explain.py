#!/usr/bin/env python3
"""`explain` and `complete`: figures of units against GNU units, every word of the list, and words that no table has."""

import os
import re
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run, skip  # noqa: E402

# What the program calls a unit, as GNU units 2.22 spells it.
GNU = {"US fl oz": "usfloz", "US pt": "uspint", "US qt": "usquart", "US gal": "usgallon", "UK fl oz": "brfloz",
       "UK pt": "brpint", "UK qt": "brquart", "UK gal": "brgallon", "gr": "grain", "min": "minute", "h": "hour",
       "days": "day", "weeks": "week", "months": "30 day", "sq in": "in^2", "cm²": "cm^2", "cm2": "cm^2", "L": "liter",
       "mL": "ml", "cL": "cl", "inch": "inch", "ft": "foot", "m": "meter"}


def judge_units():
    if not shutil.which("units"):
        skip("factors of units", "no units")
        return
    listed = [line.split("\t")[1] for line in run("explain", "--list").stdout.decode().splitlines()
              if line.startswith("unit\t")]
    compared = 0
    for unit in listed:
        text = run("explain", unit).stdout.decode()
        match = re.search(r"^A unit of .*\. 1 (\S.*?) is ([0-9.]+) (\S+) \(", text, re.MULTILINE)
        if match is None or unit in ("K",):
            continue
        told = subprocess.run(["units", "-t", "--digits", "15", f"1 {GNU.get(unit, unit)}", GNU.get(match[3], match[3])],
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False).stdout.decode().split()
        near = len(told) == 1 and abs(float(told[0]) / float(match[2]) - 1) < 1e-12
        compared += 1
        check(near, f"1 {unit} is {match[2]} {match[3]}", f"GNU units: {told}")
    check(compared >= 25, "most units have a factor that was compared", compared)
    text = run("explain", "°F").stdout.decode()
    check("(x - 32) × 5/9 °C" in text, "degrees Fahrenheit have the formula of their definition", text)


def judge_words():
    lines = run("explain", "--list").stdout.decode().splitlines()
    words = list(dict.fromkeys(line.split("\t")[1] for line in lines))
    together = run("explain", "--", *words)
    alone = "\n".join(run("explain", "--", word).stdout.decode() for word in words[:3] + words[-3:])
    first = together.stdout.decode()
    check(together.returncode == 0 and all(part in first for part in alone.split("\n\n") if part),
          "many words are explained as each alone", together.stderr)
    silver = run("explain", "developer").stdout.decode()
    check("A role:" in silver and "A waste stream:" in silver, "a word with two meanings gets both", silver)
    for wrong, near in (("agitat", "agitate"), ("H3O2", ""), ("H30", ""), ("developper", "developer")):
        done = run("explain", wrong)
        check(done.returncode == 2 and not done.stdout and near.encode() in done.stderr, f"nothing is called {wrong}",
              done.stderr.decode())


def judge_complete():
    odd = ["", "-", "--", "---", "=", "--=", "--to=", "--no-such=", "-o", "-x", "\u202e", "a\tb", "a\nb", "x" * 5000, "/dev",
           "/dev/zero", "--process", "--process=", "-I"]
    wrong = []
    for first in odd + ["sheet", "explain", "check", "complete"]:
        for last in odd:
            done = run("complete", "--", first, "x", last, cwd="/")
            if done.returncode != 0 or done.stderr:
                wrong.append((first, last, done.returncode, done.stderr))
    check(not wrong, "odd command lines are no matter to `complete`", wrong[:3])
    for recipe in (b"", b"\xff\xfe", b"process", b"process {", b"wetside 1\nprocess a { process b {\nuse \"a.wet\"\n"):
        path = os.path.join(os.environ.get("TMPDIR", "/tmp"), "odd.wet")
        with open(path, "wb") as file:
            file.write(recipe)
        done = run("complete", "--", "cues", path, "--process", "")
        check(done.returncode == 0 and not done.stderr, f"a broken recipe is no matter to `complete`: {recipe[:20]!r}",
              done.stderr.decode())
    os.remove(path)


judge_units()
judge_words()
judge_complete()
end()
