#!/usr/bin/env python3
# lasts: 15
"""Sheet, cues and timer of one load: the times are those that --done gives by hand for what the plan says its baths have
done, the load and its rolls are named, the timer's log tells them, and what makes no sense is refused."""

import csv
import io
import json
import os
import random
import re
import subprocess
import tempfile

import lockers
import sheets
from harness import WETSIDE, check, end, run

ROLLS = 20 if "/asan/" in WETSIDE else 40  # each load is asked for several times, and each time all are planned


def by_hand(path, load, plan):
    """The cue list of a load's process with --done for each of its baths."""
    process = plan["processes"][load["process"] - 1]["name"]
    accounts = {}
    for account in load["accounts"]:
        accounts.setdefault(account["bath"], account["done_before_rolls"])
    options = [f"--done={bath}={done:g}" for bath, done in accounts.items() if bath != "soup"]
    return json.loads(lockers.ask("cues", "--to", "json", "--process", process, *options, path))


def moments(cues):
    return [(cue["at_s"], cue["step"], cue["kind"], cue["until_s"], cue["count"]) for cue in cues["cues"]]


def check_times(path, plan):
    lengthened = 0
    for load in plan["loads"]:
        if not load["today"]:
            continue
        own = json.loads(lockers.ask("cues", "--to", "json", "--load", str(load["number"]), path))
        hand = by_hand(path, load, plan)
        number = load["number"]
        check(moments(own) == moments(hand), f"load {number}: the cues are those of --done by hand")
        check([step["used_time"] for step in own["steps"]] == [step["used_time"] for step in hand["steps"]],
              f"load {number}: the reasons too")
        steps = [(step["low_s"], step["high_s"]) for step in load["steps"]]
        used = [(step["used_time"] or {**step["time"]}) for step in own["steps"]]
        check(steps == [(time["low_s"], time["high_s"]) for time in used], f"load {number}: the plan has these times")
        rolls = [(place["reel"], place["roll"]["label"]) for place in load["places"]]
        check([(roll["reel"], roll["label"]) for roll in own["load"]["rolls"]] == rolls, f"load {number}: its rolls")
        lengthened += any(step["used_time"] for step in own["steps"])
        sheet = lockers.ask("sheet", "--to", "markdown", "--load", str(number), path)
        words = sheets.Page(sheets.cmark(sheet)).text
        check(f"load {number} of {len(plan['loads'])}, " in words, f"load {number}: the sheet says which it is")
        listed = words.split("Rolls, from the bottom:")[1].split(" ## ")[0]
        at = [listed.find(label) for _, label in rolls]
        check(-1 not in at and at == sorted(at), f"load {number}: the sheet has its rolls, the bottom first", listed)
    check(lengthened > 1, "some loads have lengthened times")


def check_log(folder, path, plan):
    """The timer of a load, from its plan to the head of its log."""
    load = plan["loads"][0]
    timer = os.path.join(folder, "timer.sh")
    lockers.ask("timer", "--load", "1", "-o", timer, path)
    log, clock = os.path.join(folder, "run.log"), os.path.join(folder, "clock")
    with open(clock, "w", encoding="ascii") as file:
        file.write("86399.50 0.3\n")
    done = subprocess.run(["sh", timer, "--clock-file", clock, "--log", log], stdin=subprocess.DEVNULL, timeout=60,
                          check=False, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, cwd=folder)
    check(done.returncode == 0, "the timer of a load runs to its end", done.stdout.decode("utf-8", "replace"))
    with open(log, encoding="utf-8") as file:
        lines = [line.rstrip("\n").split("\t") for line in file]
    check(lines[0] == ["wetside-log", "1"], "the log is still of version 1", lines[:1])
    check([line for line in lines if line[0] == "load"] == [["load", "1", str(len(plan["loads"])), "2026-03-14", "Locker 7; b"]],
          "the log says which load it is", [line for line in lines if line[0] == "load"])
    said = [line for line in lines if line[0] == "roll"]
    wanted = [["roll", str(place["reel"]), place["roll"]["label"], place["roll"]["format"], place["roll"]["origin"] or "-",
               place["roll"]["together"] or "-", place["mark"] or "-", f"{place['roll']['area_rolls']:.3f}"]
              for place in load["places"]]
    check([line[:8] for line in said] == wanted, "one line a roll, in the order of loading", said)
    kinds = [line[0] for line in lines]
    check(kinds.index("load") < kinds.index("roll") < kinds.index("plan-step"), "they stand in its head")
    rows = list(csv.DictReader(io.StringIO(lockers.ask("review", "--to", "csv", log), newline="")))
    check([(row["label"].removeprefix("'"), int(row["reel"]), row["load"]) for row in rows] ==
          [(place["roll"]["label"], place["reel"], "1") for place in load["places"]],
          "a review of it has one row a roll, in the order of loading", [row["label"] for row in rows])
    page = lockers.ask("live", "--load", "1", path)
    data = json.loads(re.search(r'<script type="application/json" id="plan">(.*?)</script>', page, re.DOTALL).group(1))
    check([line for line in data["head"] if line[0] in ("load", "roll")] ==
          [line for line in lines if line[0] in ("load", "roll")], "the live page of the load writes the same lines",
          data["head"])
    plain = lockers.ask("timer", "--process", "grey", path)
    check(load["places"][0]["roll"]["label"] not in plain, "a timer of no plan names no roll")


def check_mixed(folder):
    """The day a bath was mixed: on its bottle, in the log, and in the line for the next day, for what was in the cupboard on
    that day as for what the plan mixes, after midnight too."""
    clauses = "finish by 08:00; on hand colour-developer 3 L mixed 2026-03-12 done 2 rolls"
    roll = {"label": "SM-1", "format": "135", "needs": "C-41"}
    path = lockers.write(os.path.join(folder, "mixed"), [roll], clauses=clauses, start="23:55")
    bottles = lockers.data("lists", path)["bottles"]
    check([bottle["mixed"] for bottle in bottles] == ["2026-03-12", "2026-03-15 00:10"], "the bottles say when they were mixed",
          bottles)
    timer = lockers.ask("timer", "--load", "1", path)
    baths = [re.findall(r"'([^']*)'", line)[1:5] for line in timer.splitlines() if "'plan-bath'" in line]
    check(baths == [["colour-developer", "1", "3000.0", "2026-03-12"], ["bleach-fix", "1", "2500.0", "2026-03-15"]],
          "so does the log", baths)


def check_past_life(folder):
    """The plan says why it mixes anew what stands in the cupboard."""
    roll = {"label": "SM-1", "format": "135", "needs": "C-41"}
    for mixed, is_over in (("2026-02-01", True), ("2026-03-12", False)):
        path = lockers.write(os.path.join(folder, "life"), [roll], clauses=f"on hand colour-developer 3 L mixed {mixed} done 2 rolls")
        with open(path, encoding="utf-8") as file:
            text = file.read().replace("capacity 16 rolls per 1 L; lengthen", "keeps 2 weeks part full; capacity 16 rolls per 1 L; lengthen")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        said = lockers.ask("plan", "--to", "markdown", path)
        sentence = f"The 3 L in the cupboard, mixed {mixed}, is past its life and is not used."
        check((sentence in said.replace("\u00a0", " ")) == is_over, f"mixed {mixed}: the plan says what is past its life", said)


def check_remarks(folder):
    """Who decided that a roll is developed as something else, and why, and what a note says, is printed with the day."""
    path = lockers.write(os.path.join(folder, "remarks"), [
        {"label": "SM-1", "format": "135", "needs": "C-41", "note": "tin, rusty"},
        {"label": "SM-2", "format": "135", "needs": "C-22", "develop as": "black-and-white-negative", "reason": "no baths for it",
         "decided by": "KM"},
        {"label": "SM-3", "format": "135", "needs": "C-41"}],
        columns=["label", "format", "needs", "develop as", "reason", "decided by", "note"])
    decided = "SM-2: made for C-22, developed as black-and-white-negative: no baths for it; decided by KM."
    for command, form in (("plan", "html"), ("plan", "markdown"), ("lists", "html"), ("lists", "markdown")):
        text = lockers.ask(command, "--to", form, path)
        words = sheets.Page(text if form == "html" else sheets.cmark(text)).text
        said = words.split("Said of single rolls")[-1]
        check("SM-1: tin, rusty" in said and decided in said and "SM-3:" not in said, f"{command} as {form} says what is said of rolls",
              words)
    with open(path, "a", encoding="utf-8") as file:
        file.write('roll SM-4 "Keeper\'s own" { format 135; needs C-41 }\n')
    said = lockers.ask("lists", "--to", "markdown", path).split("Said of single rolls")[-1]
    check("**SM-4**, Keeper's own\n" in said, "a title alone stands by itself", said)
    plan = lockers.data("plan", path)
    grey = next(load["number"] for load in plan["loads"] if load["places"][0]["roll"]["label"] == "SM-2")
    text = lockers.ask("lists", "--to", "markdown", "--load", str(grey), path)
    check("no baths for it" in text and "rusty" not in text, "the lists of one load say it of its rolls", text)


def check_refused(folder, path):
    def refused(words, *arguments):
        done = run(*arguments, path)
        name = " ".join(arguments)
        check(done.returncode == 2 and not done.stdout and words in done.stderr.decode(), f"refused: {name}",
              done.stderr.decode())

    refused("there is no load 99", "cues", "--load", "99")
    refused("takes the number of a load", "cues", "--load", "0")
    refused("takes the number of a load", "lists", "--load", "two")
    refused("--load says the process", "timer", "--load", "1", "--process", "grey")
    refused("takes no --done", "sheet", "--load", "1", "--done", "3")
    refused("its timer and live page ask for what was measured", "cues", "--load", "1", "--at", "develop=20C")
    refused("there is no day 2026-03-15", "plan", "--day", "2026-03-15")
    refused("wants a day of the calendar", "plan", "--day", "2026-02-30")
    refused("--day goes with --load", "cues", "--day", "2026-03-14")
    late = lockers.write(os.path.join(folder, "late"), lockers.rolls(random.Random(3), 30), clauses="finish by 11:00")
    plan = lockers.data("plan", late)
    number = str(len(plan["loads"]))
    done = run("cues", "--load", number, late)
    check(done.returncode == 2 and b"is not done on this day" in done.stderr, "the run of a load that is left is refused")
    lists = lockers.data("lists", late, "--load", number)
    check(len(lists["loads"]) == 1 and not lists["loads"][0]["today"] and not lists["left"],
          "its lists are not: they hold it alone")
    none = run("plan", "examples/ecn-2.wet")
    check(none.returncode == 1 and b"declares no day" in none.stderr, "a file without a day has no plan")
    several = os.path.join(folder, "several.wet")
    with open(path, encoding="utf-8") as file, open(several, "w", encoding="utf-8") as copy:
        text = file.read().replace('rolls from "rolls.csv"', "")
        copy.write(text + text[text.index("day 2026"):].replace("2026-03-14", "2026-03-21"))
    done = run("plan", several)
    check(done.returncode == 2 and b"choose one with --day: 2026-03-14, 2026-03-21" in done.stderr, "one of several days is asked for",
          done.stderr.decode())
    check(run("plan", "--day", "2026-03-21", several).returncode == 0, "and is planned")
    idle = run("plan", "--to", "ics", "--day", "2026-03-21", several).stdout
    check(idle.count(b"BEGIN:VEVENT") == 1, "a day without rolls is an event that says so")


def main():
    sheets.need("cmark", "sh")
    check(os.path.exists(WETSIDE), "there is a program")
    with tempfile.TemporaryDirectory() as folder:
        rolls = lockers.rolls(random.Random("one load"), ROLLS)
        path = lockers.write(os.path.join(folder, "day"), rolls, title="Locker 7; b")
        plan = lockers.data("plan", path)
        check_times(path, plan)
        check_log(folder, path, plan)
        check_mixed(folder)
        check_past_life(folder)
        check_remarks(folder)
        check_refused(folder, path)
    end()


if __name__ == "__main__":
    main()
