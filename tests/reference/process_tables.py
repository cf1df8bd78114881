#!/usr/bin/env python3
"""Processes written by hand in the language from published tables give those tables' times, totals and windows.

colour_process_steps.tsv holds the rows. A row marked READ was seen in the stored text of its source, which the result
names; one marked MEMORY was recalled, and the result says "from memory". Degrees Fahrenheit are compared exactly;
degrees Celsius, which the tables print rounded, to half of the last printed digit.
"""

import csv
import json
import os
import re
import sys

FOLDER = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(FOLDER, ".."))
from harness import check, end, run  # noqa: E402

# Which file and process is written from which table, and the step of each row by its number in the table.
TABLES = [
    ("C-41RA", "minilab", "c-41ra.wet", "c-41ra",
     {"1": "developer", "2": "bleach", "3": "fixer", "4": "final-rinse", "5": "dry"}),
    ("C-41", "small tank", "c-41-small-tank.wet", "c-41",
     {"1": "developer", "2": "bleach", "3": "first-wash", "4": "fixer", "5": "second-wash", "6": "final-rinse",
      "7": "dry"}),
    ("E-1", "small tank", "e-1.wet", "e-1",
     {"1": "first-developer", "2": "stop", "3": "hardener", "5": "first-wash", "6": "colour-developer",
      "7": "second-wash", "8": "clear", "9": "rinse"}),
    *(("E-2/E-3", "small tank", "e-2-e-3.wet", name,
       {"1": "first-developer", "2": "stop", "3": "hardener", "4": "expose", "5": "first-wash", "6": "colour-developer",
        "7": "second-wash", "8": "clear", "9": "rinse"}) for name in ("e-2", "e-3")),
    ("ECP-2E", "machine", "ecp-2e.wet", "ecp-2e", {"1": "developer", "2": "stop"}),
    ("E-6", "sink-line, manufacturer", "e-6.wet", "e-6",
     {"1": "first-developer", "2": "first-wash", "3": "reversal-bath", "4": "colour-developer", "5": "pre-bleach",
      "6": "bleach", "7": "fixer", "8": "final-wash", "9": "final-rinse"}),
]

# The printed tolerance 0.15 °C of 0.25 °F (0.139 K) is rounded to a twentieth.
TOLERANCE_ALLOWANCE_K = 0.025


def rows_of_table():
    with open(os.path.join(FOLDER, "colour_process_steps.tsv"), encoding="utf-8") as file:
        return list(csv.DictReader((line for line in file if not line.startswith("#")), delimiter="\t",
                                   quoting=csv.QUOTE_NONE))


def cues_of(file, process):
    done = run("cues", "--to", "json", "--process", process, os.path.join("tests", "reference", file))
    if not check(done.returncode == 0, f"{file} compiles as {process}", done.stderr.decode()):
        end()
    return json.loads(done.stdout)


def source_of(row):
    return row["source"] if row["status"] == "READ" else f"from memory of {row['source']}"


def seconds(text):
    """Seconds of "3:15"; of "10", which the early tables print in minutes."""
    minutes, _, rest = text.partition(":")
    return int(minutes) * 60 + int(rest or 0)


def time_of(row):
    """Low, high (None: no upper end) and form of a row's time; None where the row gives none."""
    printed = re.fullmatch(r"(\d+(?::\d\d)?)(?:-(\d+(?::\d\d)?))?(?: min)?", row["time_min_sec"])
    if not printed:
        return None
    low = seconds(printed.group(1))
    if printed.group(2):
        return low, seconds(printed.group(2)), "range"
    return (low, None, "at-least") if row["time_is"] == "minimum" else (low, low, "exact")


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


def half_digit(printed):
    """Half of the last digit that a figure is printed with."""
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


def window_problems(row, window):
    """What of a row's temperatures the compiled window doesn't give."""
    found = []

    def compare(what, got, wanted, allowance):
        if abs(got - wanted) > allowance + 1e-9:
            found.append(f"{what} is {got}, not {wanted} within {allowance}")

    low, high, nominal = window["low_c"], window["high_c"], window["nominal_c"]
    exact = 1e-6  # how the figures are written
    if row["temp_f"]:
        compare("working point from °F", nominal, celsius(float(row["temp_f"])), exact)
    if row["tol_f"]:
        compare("half width from °F", (high - low) / 2, float(row["tol_f"]) / 1.8, exact)
    if row["temp_c"]:
        compare("working point in °C", nominal, float(row["temp_c"]), half_digit(row["temp_c"]))
    if row["tol_c"]:
        compare("half width in K", (high - low) / 2, float(row["tol_c"]),
                max(half_digit(row["tol_c"]), TOLERANCE_ALLOWANCE_K))
    if row["range_f"]:
        ends = [celsius(float(part)) for part in row["range_f"].split("-")]
        compare("low end from °F", low, ends[0], exact)
        compare("high end from °F", high, ends[1], exact)
    if row["range_c"]:
        for what, got, part in zip(("low end", "high end"), (low, high), row["range_c"].split("-")):
            compare(what + " in °C", got, float(part), half_digit(part))
    return found


def check_time(name, row, step):
    wanted = time_of(row)
    if wanted:
        got = step["time"] and (step["time"]["low_s"], step["time"]["high_s"], step["time"]["form"])
        check(got == wanted, f"{name}: time {row['time_min_sec']} ({source_of(row)})", f"{got}, not {wanted}")
        length = step["end_s"] - step["pour_s"]
        check(length == wanted[0], f"{name}: takes {wanted[0]} s of the run at the earliest ({source_of(row)})", length)
    elif row["time_min_sec"].startswith("light"):
        check(step["role"] == "exposing", f"{name}: light ({source_of(row)})", step["role"])
    else:
        check(step["time"] is None, f"{name}: no time ({source_of(row)})", step["time"])


def check_row(name, row, step):
    check_time(name, row, step)
    printed = [row[key] for key in ("temp_f", "tol_f", "range_f", "temp_c", "tol_c", "range_c")]
    if any(printed):
        problems = window_problems(row, step["window"]) if step["window"] else ["no window"]
        check(not problems, f"{name}: temperature {' '.join(filter(None, printed))} ({source_of(row)})",
              "\n".join(problems))
    else:
        check(step["window"] is None, f"{name}: no temperature ({source_of(row)})", step["window"])


def check_totals(name, rows, steps, value):
    """The totals are the sums of the rows; what the table doesn't time (the exposure) is taken as it runs."""
    times = {number: time_of(row) for number, row in rows.items()}
    by_memory = any(row["status"] == "MEMORY" for row in rows.values())
    source = "sum of the rows, some of them from memory" if by_memory else f"sum of the rows: {source_of(rows['1'])}"
    wet = [times[number] for number in rows if times[number] and steps[number]["is_wet"]]
    dry = [times[number] for number in rows if times[number] and not steps[number]["is_wet"]]
    timed = {steps[number]["name"] for number in rows if times[number]}
    exposed = sum(step["end_s"] - step["pour_s"] for step in value["steps"] if step["name"] not in timed)
    totals = value["totals"]
    for key, some in (("wet", wet), ("total", wet + dry)):
        low = sum(time[0] for time in some) + exposed
        high = None if any(time[1] is None for time in some) else sum(time[1] for time in some) + exposed
        got = totals[f"{key}_min_s"], totals[f"{key}_max_s"]
        check(got == (low, high), f"{name}: {key} {low} s to {high or 'open'} ({source})", f"{got}")


def check_table(table, process, cycle, file, name, step_of_row):
    rows = {row["step_no"]: row for row in table if row["process"] == process and row["cycle"] == cycle}
    check(set(rows) == set(step_of_row), f"{name}: every row of the table is compared", sorted(rows))
    value = cues_of(file, name)
    by_name = {step["name"]: step for step in value["steps"]}
    steps = {number: by_name[step] for number, step in step_of_row.items()}
    for number, row in rows.items():
        check_row(f"{name} {number} {row['step']}", row, steps[number])
    order = [step["name"] for step in value["steps"] if step["name"] in step_of_row.values()]
    check(order == [step_of_row[number] for number in rows], f"{name}: the steps come in the table's order", order)
    check_totals(name, rows, steps, value)


def check_e6_read_rows(table):
    """Rows of E-6 that were read elsewhere: the order of the first four baths, the light, two times and windows."""
    value = cues_of("e-6.wet", "e-6")
    steps = value["steps"]
    roles = {"first developer": "first-developer", "first wash": "wash", "reversal bath": "reversal-bath",
             "color developer": "colour-developer"}
    army = [row for row in table if row["cycle"] == "Army list of ten steps" and row["status"] == "READ"]
    check([roles[row["step"]] for row in army] == [step["role"] for step in steps[:4]],
          f"e-6: first four baths in order ({army[0]['source']})", [step["role"] for step in steps[:4]])
    reversal = steps[2]
    check(reversal["light_s"] == reversal["start_s"] + 60,
          f"e-6: light after 1 minute in the reversal bath ({army[2]['source']})", reversal["light_s"])
    for row in (row for row in table if row["process"] == "E-6" and row["cycle"] == "six-bath"):
        step = steps[int(row["step_no"]) - 1]
        check_time(f"e-6 {row['step']}", row, step)
        check(step["window"]["low_c"] <= celsius(float(row["temp_f"])) <= step["window"]["high_c"],
              f"e-6 {row['step']}: {row['temp_f']} °F lies in the window ({row['source']})", step["window"])


def main():
    table = rows_of_table()
    for entry in TABLES:
        check_table(table, *entry)
    check_e6_read_rows(table)
    end()


if __name__ == "__main__":
    main()
