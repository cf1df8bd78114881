#!/usr/bin/env python3
"""All outputs of a run hold the same instants: the four cue lists of every example process, read back, hold the same
cues at the same times, and so do the timer's dry run and the sheet where it prints times."""

import json
import os
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
        check(cues[form] == exact, f"{name}: {form} holds the cues of json",
              lambda found=cues[form]: first_difference(found, exact))
    whole = read_back.rounded(exact)
    check(cues["text"] == whole, f"{name}: text holds the cues of json",
          lambda: first_difference(cues["text"], whole))
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
    mine = [(float(row["since_pour_s"]), float(row["since_start_s"]), int(row["step"]), row["kind"],
             row["rings"] == "yes", row["assumes_earliest_end"] == "yes",
             float(row["until_s"]) if row["until_s"] else None, int(row["count"]) if row["count"] else None)
            for row in rows]
    theirs = [tuple(cue[key] for key in ("since_pour_s", "since_start_s", "step", "kind", "rings",
                                         "assumes_earliest_end", "until_s", "count")) for cue in value["cues"]]
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


def check_timer(name, script, exact):
    """The timer's dry run, which lists the cues of one step after the other."""
    with tempfile.NamedTemporaryFile(suffix=".sh") as file:
        file.write(script)
        file.flush()
        done = subprocess.run(["sh", file.name, "--dry-run"], env=dict(os.environ, LC_ALL="C.UTF-8"),
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    if not check(done.returncode == 0, f"{name}: the timer's dry run ends well",
                 done.stderr.decode("utf-8", "replace")):
        return
    mine, theirs = sorted(read_back.read_text(done.stdout)), sorted(read_back.rounded(exact))
    check(mine == theirs, f"{name}: the timer holds the cues of json", lambda: first_difference(mine, theirs))


def seconds_of(clock_text):
    """Whole seconds of the sheet's m:ss or h:mm:ss."""
    seconds = 0
    for part in clock_text.split(":"):
        seconds = seconds * 60 + int(part)
    return seconds


def length_of(words):
    """Whole seconds of "5 s" or "1:30"."""
    return int(words.removesuffix(" s")) if words.endswith(" s") else seconds_of(words)


def agitations_on_sheet(block):
    """Start and end of each agitation that a step's sentence names."""
    said = re.search(r"Agitate (.*?)[.;] ", block)
    found = []
    for part in said.group(1).split(", then ") if said else []:
        span = re.fullmatch(r"([\d:]+)–([\d:]+)", part)
        listed = re.fullmatch(r"(\S+(?: s)?) at ([\d:, ]+)", part)
        even = re.fullmatch(r"(\S+(?: s)?) every (\S+(?: s)?)(?: from|,) ([\d:]+) to ([\d:]+)", part)
        if span:
            found.append((seconds_of(span.group(1)), seconds_of(span.group(2))))
        elif listed:
            starts = [seconds_of(start) for start in listed.group(2).split(", ")]
            found += [(start, start + length_of(listed.group(1))) for start in starts]
        elif even:
            first, last = seconds_of(even.group(3)), seconds_of(even.group(4))
            starts = range(first, last + 1, length_of(even.group(2)))
            found += [(start, start + length_of(even.group(1))) for start in starts]
        else:
            raise ValueError(f"an agitation in unknown words: {part!r}")
    return found


def check_sheet(name, sheet, value):
    """What the sheet prints of a step's clock: when it is poured and over, agitated, drained, may see light."""
    blocks = re.split(r"^#{2,3} (\d+) ", read_back.plain(sheet.decode("utf-8")), flags=re.M)
    blocks = {int(number): re.split(r"^#", block, flags=re.M)[0] for number, block in zip(blocks[1::2], blocks[2::2])}
    off = []
    for step in value["steps"]:
        block = blocks.get(step["number"], "")
        clock_words = re.search(r"\brun(?: clock)? ([\d:]+) to ([\d:]+)", block, re.I)
        wanted = [int(step["pour_s"] + 0.5), int(step["end_s"] + 0.5)]
        if not clock_words or [seconds_of(part) for part in clock_words.groups()] != wanted:
            off.append((step["name"], "run clock", wanted))
        for words, key in ((r"\*\*(?:Drain|Lift out) (?:at|from|between) ([\d:]+)", "drain_s"),
                           (r"\*\*Light allowed from ([\d:]+)", "light_s")):
            for printed in re.findall(words, block):
                if seconds_of(printed) != int(step[key] - step["start_s"] + 0.5):
                    off.append((step["name"], key, printed))
        agitated = [(cue["since_start_s"], cue["since_start_s"] + cue["until_s"] - cue["at_s"]) for cue in value["cues"]
                    if cue["step"] == step["number"] and cue["kind"] == "agitation-start"]
        if agitations_on_sheet(block) != agitated:
            off.append((step["name"], "agitation", agitated))
    check(not off and len(blocks) >= len(value["steps"]), f"{name}: the sheet prints the instants of json", off)


def check_dips(name, value):
    """Nothing is poured or drained where film is dipped into a vessel of its own and lifted out; elsewhere it is."""
    dips = {step["number"] for step in value["steps"] if step["role"] in ("stabiliser", "final-rinse", "wetting-agent")}
    off = [cue["text"] for cue in value["cues"] if cue["kind"] in ("pour", "drain-soon", "drain")
           and bool(re.match("dip into |lift out", cue["text"])) != (cue["step"] in dips)]
    check(not off, f"{name}: what is dipped is lifted out", off)


def main():
    for path, process in [*read_back.example_processes(), read_back.FRACTIONS]:
        outputs = {form: read_back.emit(path, "cues", form, process) for form in read_back.FORMATS}
        value = json.loads(outputs["json"])
        exact = check_cue_lists(process, outputs)
        check_relative_times(process, outputs)
        check_order(process, value)
        check_dips(process, value)
        check_timer(process, read_back.emit(path, "timer", "sh", process), exact)
        if (path, process) != read_back.FRACTIONS:  # the sheet prints whole seconds in words of their own
            check_sheet(process, read_back.emit(path, "sheet", "markdown", process), value)
    end()


if __name__ == "__main__":
    main()
