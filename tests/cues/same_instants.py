#!/usr/bin/env python3
"""All outputs of a run hold the same instants: the four cue lists of every example process, read back, hold the same cues
at the same times, and so do the timer's dry run and the sheet where it prints times."""

import json
import re
import subprocess
import tempfile

import read_back
from harness import check, end


def check_cue_lists(name, outputs):
    """Text, CSV, JSON and WebVTT against each other; returns the exact cues."""
    cues = {form: read_back.READERS[form](data) for form, data in outputs.items()}
    exact = cues["json"]
    check(len(exact) > 0, f"{name}: there are cues")
    for form in ("csv", "vtt"):
        check(cues[form] == exact, f"{name}: {form} holds the cues of json", lambda: first_difference(cues[form], exact))
    whole = read_back.rounded(exact)
    check(cues["text"] == whole, f"{name}: text holds the cues of json", lambda: first_difference(cues["text"], whole))
    return exact


def first_difference(some, others):
    for number, pair in enumerate(zip(some, others)):
        if pair[0] != pair[1]:
            return f"cue {number}: {pair[0]} and {pair[1]}"
    return f"{len(some)} and {len(others)} cues"


def check_relative_times(name, outputs):
    """The times since the pour and since the start of a step's time agree in text, CSV and JSON, and with the steps."""
    value = json.loads(outputs["json"])
    steps = value["steps"]
    off = [cue for cue in value["cues"]
           if abs(cue["at_s"] - cue["since_pour_s"] - steps[cue["step"] - 1]["pour_s"]) > 1e-9
           or abs(cue["at_s"] - cue["since_start_s"] - steps[cue["step"] - 1]["start_s"]) > 1e-9
           or cue["step_name"] != steps[cue["step"] - 1]["name"]]
    check(not off, f"{name}: times since the run's and the step's start agree", off[:3])
    rows = read_back.csv_rows(outputs["csv"])
    mine = [(float(row["since_pour_s"]), float(row["since_start_s"]), int(row["step"]), row["kind"], row["rings"] == "yes",
             row["assumes_earliest_end"] == "yes", float(row["until_s"]) if row["until_s"] else None,
             int(row["count"]) if row["count"] else None) for row in rows]
    theirs = [tuple(cue[key] for key in ("since_pour_s", "since_start_s", "step", "kind", "rings", "assumes_earliest_end",
                                         "until_s", "count")) for cue in value["cues"]]
    check(mine == theirs, f"{name}: csv and json hold the same of each cue", lambda: first_difference(mine, theirs))
    printed = [(since, mark == "*") for _, since, mark, _, _ in read_back.text_rows(outputs["text"])]
    wanted = [(clock(cue["since_start_s"]), cue["rings"]) for cue in value["cues"]]
    check(printed == wanted, f"{name}: text prints the step's time and marks what rings",
          lambda: first_difference(printed, wanted))


def clock(seconds):
    whole = int((seconds * 1000 + 500) // 1000)
    return f"{'-' if whole < 0 else ''}{abs(whole) // 3600}:{abs(whole) // 60 % 60:02}:{abs(whole) % 60:02}"


def check_order(name, value):
    """Cues come in time order; each step's first cue is at its pour, its end where the next is poured."""
    times = [cue["at_s"] for cue in value["cues"]]
    check(times == sorted(times) and times[0] == 0, f"{name}: cues come in time order from 0")
    gaps = [(one["name"], other["name"]) for one, other in zip(value["steps"], value["steps"][1:])
            if one["end_s"] != other["pour_s"]]
    check(not gaps, f"{name}: a step is poured when the one before has drained", gaps)
    missing = [step["name"] for step in value["steps"]
               if not any(cue["step"] == step["number"] and cue["at_s"] == step["pour_s"] for cue in value["cues"])]
    check(not missing, f"{name}: every step has a cue where it begins", missing)


def main():
    for path, process in read_back.example_processes():
        outputs = {form: read_back.emit(path, "cues", form, process) for form in read_back.FORMATS}
        check_cue_lists(process, outputs)
        check_relative_times(process, outputs)
        check_order(process, json.loads(outputs["json"]))
    end()


if __name__ == "__main__":
    main()
