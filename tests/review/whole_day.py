#!/usr/bin/env python3
# lasts: 15
"""A day whose baths are replaced on the way, from its plan over the logs of its loads to the next day's file: the lines that
a review makes are what the plan says is left, one of each bath, and compile; the next day's logs go on from them."""

import csv
import io
import json
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402
from harness import check  # noqa: E402

RECIPE = """wetside 1
allow all-in-one-load "invented rolls"
allow untested-bath "invented rolls"
tank small "Small tank" {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }}
solution developer {{
  role developer; reuse; kit makes 1 L, liquid; mix {{ water 700 mL; add "concentrate" 300 mL }}
  capacity 4 rolls per 1 L; lengthen 2 % per roll per 1 L, added up; hazards H317; waste developer
}}
solution fixer {{ role fix; dilute 1+4; reuse; capacity 10 rolls per 1 L; hazards EUH031; waste silver }}
solution stop {{ role stop; dilute 1+19; hazards none; waste acid }}
process film {{
  develops black-and-white-negative; tank small
  step develop in developer at 20 ± 0.5 °C for 8:00 {{ agitate first 30 s, then 5 s every 60 s }}
  step stop in stop at 20 ± 2 °C for 0:30 {{ agitate first 10 s }}
  step fix in fixer at 20 ± 2 °C for at least 5:00 {{ agitate first 15 s, then 5 s every 30 s }}
  step wash in running water at 20 ± 2 °C for at least 10:00
}}
day {date} "Locker 7" {{
  start 09:00
  runs film
  tanks small
  reels 8 x 135
{lines}
{rolls}
}}
"""


def write(folder, date, labels, lines):
    path = os.path.join(folder, f"{date}.wet")
    rolls = "\n".join(f'  roll {label} {{ format 135; needs black-and-white-negative; origin "{place}" }}'
                      for label, place in labels)
    with open(path, "w", encoding="utf-8") as file:
        file.write(RECIPE.format(date=date, rolls=rolls, lines="\n".join("  " + line for line in lines)))
    return path


def asked(*arguments):
    done = harness.run(*arguments)
    check(done.returncode == 0, " ".join(os.path.basename(word) for word in arguments[:4]), done.stderr.decode())
    return done.stdout.decode()


def run_day(folder, path):
    """The plan of a day and the logs of its loads, one after the other, by the script's own test clock."""
    plan = json.loads(asked("plan", "--to", "json", path))
    logs = []
    for load in plan["loads"]:
        name = os.path.join(folder, f"{os.path.basename(path)}-{load['number']}")
        asked("timer", "--load", str(load["number"]), "-o", name + ".sh", path)
        with open(name + ".clock", "w", encoding="ascii") as file:
            file.write("100.00\n")
        subprocess.run(["sh", name + ".sh", "--clock-file", name + ".clock", "--log", name + ".log"], check=True, timeout=60,
                       stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        later(name + ".log", 3600 * (len(logs) + 1) + 86400 * int(plan["day"]["date"][-2:]))
        logs.append(name + ".log")
    return plan, logs


def later(log, seconds):
    """Loads are begun one after the other, as no test can wait for."""
    lines = [line.split("\t") for line in harness.read(log).splitlines()]
    with open(log, "w", encoding="utf-8") as file:
        for line in lines:
            if line[0] in ("cue", "event"):
                line[2] = str(int(line[2]) + seconds)
            file.write("\t".join(line) + "\n")


def left(plan):
    """What each bath that is poured back has done when the day is over, and what there is of it, by the plan."""
    return {bath["name"]: (bath["done_rolls"], bath["left_ml"]) for bath in plan["solutions"] if bath["left_ml"] > 0}


def reviewed(logs):
    return json.loads(asked("review", "--to", "json", *logs))


def main():
    folder = tempfile.mkdtemp(prefix="day")
    labels = [(f"SM-{number}", place) for number, place in enumerate(["Quay"] * 3 + ["Pier"] * 3 + ["Mill"] * 3, 1)]
    first, logs = run_day(folder, write(folder, "2026-03-14", labels, []))
    fills = {account["mix"] for load in first["loads"] for account in load["accounts"] if account["bath"] == "developer"}
    check(len(first["loads"]) > 2 and fills == {1, 2, 3}, "the developer is replaced twice on that day", fills)
    data = reviewed(logs)
    on_hand = {bath["solution"]: (bath["done_rolls"], bath["volume_ml"]) for bath in data["on_hand"]}
    # The stop bath says neither that it is used again nor what it can do: the plan mixes it for each load.
    check("stop" not in left(first) and on_hand == left(first) and len(data["on_hand"]) == len(on_hand), "on hand is what the plan says is left, once each",
          (data["on_hand"], left(first)))
    check([bath["solution"] for bath in data["replaced"]] == ["developer"] * 2, "the mixes before are told beside it",
          data["replaced"])
    words = asked("review", *logs)
    block = re.search(r"# For the next day's file\n\n```[^\n]*\n(.*?)```", words, re.S).group(1).splitlines()
    check(block == [bath["line"] for bath in data["on_hand"]] and "Another mix took the place of these:" in words,
          "the review to read has the same lines", words)
    more = [("SM-21", "Quay"), ("SM-22", "Pier")]
    path = write(folder, "2026-03-15", more, block)
    told = harness.run("check", path)
    check(told.returncode == 0 and b"error" not in told.stderr, "the next day's file compiles with them", told.stderr.decode())
    second, next_logs = run_day(folder, path)
    alone, both = reviewed(next_logs)["on_hand"], reviewed(logs + next_logs)["on_hand"]
    check({bath["solution"]: bath["done_rolls"] for bath in alone} == {name: done for name, (done, _) in left(second).items()},
          "the next day goes on from there", (alone, left(second)))
    check(sorted(both, key=str) == sorted(alone, key=str), "the logs of both days together say the same", (both, alone))
    rows = list(csv.DictReader(io.StringIO(asked("review", "--to", "csv", *logs, *next_logs), newline="")))
    check(sorted(row["label"] for row in rows) == sorted(label for label, _ in labels + more),
          "and the catalogue has each roll once", [row["label"] for row in rows])
    harness.end()


main()
