#!/usr/bin/env python3
"""Cases that are common practice, no source. Conversions besides are arithmetic."""

import json
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402

RECIPE = os.path.join("tests", "reference", "common-practice.wet")
MARK = "(common practice, no source)"


def cues_of(process):
    done = run("cues", "--to", "json", "--process", process, RECIPE)
    if not check(done.returncode == 0, f"{process} compiles", done.stderr.decode()):
        end()
    return json.loads(done.stdout)


def agitations(value, step):
    """Start and end of each agitation of a step, in seconds since its time started."""
    return [(cue["since_start_s"], cue["since_start_s"] + cue["until_s"] - cue["at_s"]) for cue in value["cues"]
            if cue["step_name"] == step and cue["kind"] == "agitation-start"]


def check_agitation():
    wanted = [(0, 30)] + [(start, start + 5) for start in (60, 90, 120, 150, 180)]
    got = agitations(cues_of("colour-negative"), "develop")
    check(got == wanted, f"3:30, 30 s and then 5 s every 30 s: 0:00 to 0:30, 1:00 to 3:00, none at 3:30 {MARK}", got)
    got = agitations(cues_of("push-1"), "develop")
    wanted += [(210, 215), (240, 245)]
    check(got == wanted, f"4:15 adds the agitations at 3:30 and 4:00 {MARK}", got)


def check_temperatures():
    steps = {step["name"]: step["window"] for step in cues_of("colour-negative")["steps"]}
    mixing = cues_of("mixing-temperature")["steps"][0]["window"]
    for what, got, wanted, digits in (
            ("mixing at 110 °F is 43.3 °C", mixing["nominal_c"], 43.3, 1),
            ("working at 102 °F is 38.9 °C", steps["develop"]["nominal_c"], 38.9, 1),
            ("bleach-fix from 95 °F is from 35.0 °C", steps["bleach-fix"]["low_c"], 35.0, 1),
            ("bleach-fix to 105 °F is to 40.6 °C", steps["bleach-fix"]["high_c"], 40.6, 1),
            ("± 0.25 °F is 0.139 K", steps["develop"]["high_c"] - steps["develop"]["nominal_c"], 0.139, 3)):
        check(round(got, digits) == wanted, f"{what} {MARK}", got)


def check_totals():
    totals = cues_of("colour-negative")["totals"]
    check((totals["wet_min_s"], totals["wet_max_s"]) == (14 * 60 + 30, 15 * 60),
          f"pre-wet 1:00, developer 3:30, bleach-fix 6:30, wash 3:00, rinse 0:30 to 1:00: 14:30 to 15:00 {MARK}",
          totals)


def main():
    check_agitation()
    check_temperatures()
    check_totals()
    end()


if __name__ == "__main__":
    main()
