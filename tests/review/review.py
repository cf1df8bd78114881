#!/usr/bin/env python3
"""`wetside review`: real logs of the timer read back, and the same logs changed by hand."""

import csv
import io
import json
import math
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

FOLDER = tempfile.mkdtemp(prefix="review")
READERS = os.path.join(harness.ROOT, "tests", "cues", "readers.mjs")


def log_of(name, *timer_options, recipe="examples/black-and-white.wet", process="black-and-white", options=()):
    """The log of a whole run by the script's own test clock."""
    script = os.path.join(FOLDER, name + ".sh")
    made = harness.run("timer", "--process", process, *options, "-o", script, recipe)
    assert made.returncode == 0, made.stderr.decode()
    clock = os.path.join(FOLDER, name + ".clock")
    path = os.path.join(FOLDER, name + ".log")
    with open(clock, "w", encoding="ascii") as file:
        file.write("100.00\n")
    subprocess.run(["sh", script, "--clock-file", clock, "--log", path, *timer_options], stdin=subprocess.DEVNULL,
                   stdout=subprocess.DEVNULL, check=True, timeout=60)
    return path


def review(*paths):
    """The review of logs as data."""
    done = harness.run("review", "--to", "json", *paths)
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


def changed(path, name, change):
    """A log with its lines changed; lines are lists of fields."""
    with open(path, encoding="utf-8") as file:
        lines = [line.rstrip("\n").split("\t") for line in file]
    lines = change(lines)
    path = os.path.join(FOLDER, name + ".log")
    with open(path, "w", encoding="utf-8") as file:
        file.writelines("\t".join(line) + "\n" for line in lines)
    return path


def step_of(data, name, run=0):
    return next(step for step in data["runs"][run]["steps"] if step["name"] == name)


def later(step, word, by):
    """A change that lets an event or cue of a step come later."""
    def change(lines):
        for line in lines:
            if line[0] in ("cue", "event") and line[4] == str(step) and line[5] in (word, word + "-begun"):
                line[7] = f"{float(line[7]) + by:.2f}"
        return lines
    return change


def test_as_planned(path):
    data = review(path)
    run = data["runs"][0]
    harness.check(run["end"] == "finished" and run["process"] == "black-and-white", "a whole run is finished", run["end"])
    harness.check(all(step["verdict"] == "as-planned" and step["off_s"] in (0, None) for step in run["steps"]),
                  "what the timer ran by itself is as planned", [(s["name"], s["verdict"], s["off_s"]) for s in run["steps"]])
    model = json.loads(harness.run("cues", "--to", "json", "--process", "black-and-white",
                                   "examples/black-and-white.wet").stdout)
    harness.check(run["fingerprint"] == model["fingerprint"], "the fingerprint is the recipe's")
    harness.check([step["name"] for step in run["steps"]] == [step["name"] for step in model["steps"]],
                  "every step of the recipe is there")
    drains = {cue["step"]: cue["since_start_s"] for cue in model["cues"] if cue["kind"] == "drain"}
    harness.check(all(step["planned_drain_s"] == drains.get(step["number"]) for step in run["steps"]),
                  "planned drains are those of the cue list")


def test_effective(name, reading_c, correction_k=0.0):
    """Against the recipe's own table, by the trade's rule: straight lines over the logarithms of the times, 18 °C 9:30,
    20 °C 8:00, 24 °C 5:30 (examples/black-and-white.wet); the rate is t(20)/t(T), the bath is taken as it was measured where
    the log carries no heat-loss test, else it cools by Newton's law, integrated here by 2,000 trapezes."""
    path = log_of(name, "--measured", f"develop={reading_c}")
    with open(path, encoding="utf-8") as file:
        lines = [line.rstrip("\n").split("\t") for line in file]
    head = next(line for line in lines if line[0] == "plan-develop")
    correction = float(next(line for line in lines if line[0] == "plan-window" and line[1] == head[1])[5])
    table = [(18.0, 570.0), (20.0, 480.0), (24.0, 330.0)]

    def time_at(temp):
        low, high = (table[0], table[1]) if temp <= 20 else (table[1], table[2])
        share = (temp - low[0]) / (high[0] - low[0])
        return math.exp(math.log(low[1]) + share * (math.log(high[1]) - math.log(low[1])))

    start = reading_c + correction
    if head[7] != "-":
        start += (float(head[7]) - start) * float(head[8])
    cooling = 0.0 if head[5] == "-" else float(head[5])
    around = start if head[6] == "-" else float(head[6])
    step = step_of(review(path), "develop")
    drain = next(line for line in lines if line[0] == "plan-step" and line[1] == head[1])[7]
    time_s = float(head[2]) + step["drained_s"] - float(drain)
    parts = 2000
    rates = [480.0 / time_at(around + (start - around) * math.exp(-cooling * time_s * i / parts)) for i in range(parts + 1)]
    expected = time_s / parts * (sum(rates) - (rates[0] + rates[-1]) / 2)
    got = step["development"]
    harness.check(got and abs(got["effective_s"] - expected) <= 0.51 and got["wanted_s"] == 480,
                  f"effective development at {reading_c} °C is the integral over the recipe's table",
                  lambda: f"{got}, expected {expected:.2f} s")
    harness.check(abs(step["measured_c"] - reading_c - correction) < 0.001, "the correction is added to the reading",
                  lambda: str(step["measured_c"]))


def test_verdicts(path):
    number = {step["name"]: step["number"] for step in review(path)["runs"][0]["steps"]}
    for name, by, verdict in [("develop", 30, "too-long"), ("develop", -30, "too-short"), ("develop", 2, "as-planned"),
                              ("fix", 240, "longer"), ("fix", -60, "too-short"), ("stop", 60, "too-long"),
                              ("stop", 15, "longer")]:
        log = changed(path, "verdict", later(number[name], "drain", by))
        data = review(log)
        step = step_of(data, name)
        harness.check(step["verdict"] == verdict and step["off_s"] == by, f"{name} drained {by} s off is {verdict}",
                      lambda: f"{step['verdict']}, {step['off_s']} s")
        departs = verdict in ("too-long", "too-short")
        harness.check(departs == any(word.startswith("TOO") for word in step["departures"]),
                      f"and {'is' if departs else 'is no'} departure", lambda: str(step["departures"]))
        told = harness.run("review", log).stdout.decode()
        some = any(each["departures"] for each in data["runs"][0]["steps"])
        harness.check(("There are departures; each stands at its step." in told) == some and ("No departures." in told) != some,
                      f"the sheet's last line says so: {some}", told[-400:])
    strayed = step_of(review(changed(path, "strayed", later(number["develop"], "drain", 30))), "develop")
    # 480 s wanted; 30 s more at the same rate are 6.25 % more
    harness.check(strayed["development"]["judgement"] == "spoilt", "30 s of 8:00 more is beyond 5 %",
                  lambda: str(strayed["development"]))


def test_events(path):
    number = {step["name"]: str(step["number"]) for step in review(path)["runs"][0]["steps"]}

    def typed(lines):
        at = next(i for i, line in enumerate(lines)
                  if line[0] == "event" and line[5] == "begun" and line[4] == number["develop"])
        new = lines[at][:5]
        lines[at:at] = [new + ["wrong-bottle", "-", "-", "3"], new + ["measured", "-", "-", "25.5 C, too hot"],
                        new + ["departure", "-", "-", "poured at 25.5 C"]]
        return lines
    step = step_of(review(changed(path, "typed", typed)), "develop")
    words = " | ".join(step["departures"])
    harness.check("wrong bottle was typed: 3" in words and "poured at 25.5 C" in words and step["is_outside"],
                  "a wrong bottle and a pour outside the window are departures", words)
    missed = changed(path, "missed", lambda lines: [line for line in lines if not (
        line[0] == "cue" and line[4] == number["develop"] and line[5] == "agitation-start" and float(line[6]) > 200)])
    step = step_of(review(missed), "develop")
    harness.check(any("agitations are not in the log" in word for word in step["departures"]), "missed agitations are told",
                  str(step["departures"]))
    late = step_of(review(changed(path, "late", later(number["develop"], "full", 9))), "develop")
    harness.check(any(re.match(r"a cue came 0:09 late", word) for word in late["departures"]), "a late cue is told",
                  str(late["departures"]))
    cut = changed(path, "cut", lambda lines: lines[:next(i for i, line in enumerate(lines)
                                                          if line[0] == "cue" and line[4] == number["fix"]) + 3])
    data = review(cut)
    harness.check(data["runs"][0]["end"] == "cut-off" and step_of(data, "fix")["verdict"] == "not-over" and
                  step_of(data, "wash")["verdict"] == "not-begun", "a power cut shows where it came")


def test_baths(path):
    """Two loads of the same bath, one after the other; the lines go into a recipe that compiles."""
    first = review(path)["on_hand"]
    load = {bath["solution"]: bath["done_rolls"] for bath in first}
    again = changed(path, "again", lambda lines: [
        [*line[:2], str(int(line[2]) + 7200), *line[3:]] if line[0] in ("cue", "event") else line for line in lines])
    both = review(path, again)["on_hand"]
    harness.check(all(bath["done_rolls"] == 2 * load[bath["solution"]] for bath in both) and len(both) == len(first) > 0,
                  "two loads of a bath add up", lambda: f"{first}\n{both}")

    def said(lines):
        for line in lines:
            if line[0] == "plan-bath":
                line[5] = "8.000"
        return lines
    after = review(path, changed(again, "said", said))["on_hand"]
    harness.check(all(bath["done_rolls"] == 8 + load[bath["solution"]] for bath in after),
                  "what the second plan knew of the first is not counted twice", lambda: str(after))
    half = changed(path, "half", lambda lines: lines[:-len(lines) // 4])
    for copies in ([path, path], [path, half], [half, path, half]):
        done = harness.run("review", "--to", "json", *copies)
        harness.check(json.loads(done.stdout)["on_hand"] == first and done.stderr.count(b"same run") == len(copies) - 1,
                      "logs that are copies of one count once, the longest of them", done.stdout.decode() + done.stderr.decode())
    harness.check(review(changed(path, "rehearsed", lambda lines: [
        [*line[:3], "10"] if line[0] == "clock" else line for line in lines]))["on_hand"] == [], "a rehearsal does no film")
    rehearsed = changed(path, "rehearsed", lambda lines: [[*line[:3], "10"] if line[0] == "clock" else line for line in lines])
    for logs, kinds in (([path], ["run"]), ([rehearsed], ["rehearsal"]), ([path, half], ["copy", "run"])):
        rows = csv.DictReader(io.StringIO(harness.run("review", "--to", "csv", *logs).stdout.decode(), newline=""))
        harness.check(sorted(row["kind"] for row in rows) == kinds == sorted(run["kind"] for run in review(*logs)["runs"]),
                      f"a catalogue can tell what did film: {' '.join(kinds)}")
    recipe = harness.read("examples/black-and-white.wet") + "\n" + "\n".join(bath["line"] for bath in first) + "\n"
    checked = harness.run("check", "--stdin-name", "examples/next.wet", "-", stdin=recipe.encode())
    harness.check(b"error" not in checked.stderr.replace(b"0 errors", b"") and b"syntax" not in checked.stderr,
                  "the lines for the next day compile", checked.stderr.decode())


ROLLS = ["SM-001", "=cmd()", 'quote "me", twice', "long " * 40, "ünï-✓"]


def with_rolls(lines):
    at = next(i for i, line in enumerate(lines) if line[0] == "plan-step")
    lines[at:at] = [["load", "3", "12", "2026-03-14", "Locker 7"]] + [
        ["roll", str(i + 1), label, "135", "Harbour office", "-", "three nicks", "1.000"] for i, label in enumerate(ROLLS)]
    return lines


def test_rolls(path):
    path = changed(path, "rolls", with_rolls)
    run = review(path)["runs"][0]
    harness.check([roll["label"] for roll in run["rolls"]] == ROLLS and run["load"] == 3, "every roll of the load, in order")
    done = harness.run("review", "--to", "csv", path)
    rows = list(csv.DictReader(io.StringIO(done.stdout.decode(), newline="")))
    harness.check([row["label"].lstrip("'") for row in rows] == ROLLS, "one row a roll for the catalogue",
                  lambda: str([row["label"] for row in rows]))
    harness.check(not any(value.startswith(("=", "+", "@")) for row in rows for value in row.values()),
                  "nothing in it is a formula")
    harness.check(all(row["fingerprint"] == run["fingerprint"] and row["end"] == "finished" for row in rows),
                  "each row has the fingerprint and how it ended")
    text = harness.run("review", path).stdout.decode()
    harness.check(all(f"reel {i + 1}: " in text for i in range(len(ROLLS))) and "load: 3 of 12, 2026-03-14, Locker 7" in text,
                  "the review to read names them too", text)
    return path


def test_colour():
    """A colour developer has no time for another temperature; the catalogue has what was done all the same: 3:30 at a
    thermometer that shows 0.2 K too much (examples/colour-negative-bleach-fix.wet, examples/room.wet)."""
    path = log_of("colour", "--measured", "develop=39.1", recipe="examples/colour-negative-bleach-fix.wet",
                  process="colour-negative")
    done = harness.run("review", "--to", "csv", path)
    row = next(csv.DictReader(io.StringIO(done.stdout.decode(), newline="")))
    harness.check((row["develop_reading"], row["develop_c"], row["develop_s"], row["develop_effective_s"]) ==
                  ("39.1 C", "38.9", "210", ""), "a colour developer's time and temperature are in the catalogue", str(row))
    return path


def test_schema(paths):
    files = [os.path.join(harness.ROOT, "docs", "schemas", "review.schema.json")]
    for i, path in enumerate(paths):
        files.append(os.path.join(FOLDER, f"review-{i}.json"))
        with open(files[-1], "wb") as file:
            file.write(harness.run("review", "--to", "json", path).stdout)
    done = subprocess.run(["node", READERS, "schema", *files], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    if done.returncode == 77:
        harness.skip("the review's schema", done.stderr.decode().strip())
        return
    harness.check(done.returncode == 0 and json.loads(done.stdout) == [[] for _ in paths],
                  "ajv: the data agrees with its schema, and no key is missing there",
                  lambda: done.stdout.decode() + done.stderr.decode())


def main():
    plain = log_of("plain")
    test_as_planned(plain)
    for i, reading in enumerate((20.0, 19.0, 23.0)):
        test_effective(f"measured-{i}", reading)
    test_verdicts(plain)
    test_events(plain)
    test_baths(plain)
    rolls = test_rolls(plain)
    colour = test_colour()
    test_schema([plain, rolls, colour])
    refused = harness.run("review", "examples/baths.wet")
    harness.check(refused.returncode == 1 and refused.stdout == b"" and b"no log of a run" in refused.stderr,
                  "a file that is no log is refused", refused.stderr.decode())
    harness.check(harness.run("review").returncode == 2 and harness.run("review", "absent.log").returncode == 2,
                  "no log, or one that is not there, is a usage error")
    harness.end()


main()
