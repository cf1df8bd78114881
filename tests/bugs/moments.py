#!/usr/bin/env python3
"""Moments and times that were wrong once. Each function tells the story in a paragraph."""

import json
import os
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402

HEAD = """wetside 1
tank jar { holds 1 L; fill 5 s; drain 5 s; takes 2 x 135 }
solution developer { role developer; dilute 1+9; reuse; hazards H317; waste developer; usable 10 .. 40 °C
  lengthen %s }
solution monobath { role monobath; dilute 1+4; reuse; hazards H317; waste silver }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
allow development-too-short "a test"
allow uneven-pour "a test"
process one {
  develops black-and-white-negative
  tank jar
%s
}
"""
DEVELOP = "  step develop in developer at 20 °C for 9:00 { agitate none; coefficient 8 %% per K%s }\n"
FIX = "  step %s in fixer at 20 °C for %s { agitate none }\n"


def cues(steps, *options, lengthen="4.5 % per roll per 1 L"):
    """The cue list of a process with these steps, and the run itself."""
    done = run("cues", "--to=json", *options, "-", stdin=(HEAD % (lengthen, steps)).encode())
    return (json.loads(done.stdout) if done.returncode == 0 else None), done


def light_of(value):
    """The step of a cue list in which light may come on, and how long after its start."""
    return [(step["name"], step["light_s"] - step["start_s"]) for step in value["steps"] if step["light_s"] is not None]


def check_monobath():
    """A monobath develops while it fixes, so two minutes of it are not two minutes of fix: light then would have fogged
    the film. Light waits for its end."""
    value, _ = cues("  step develop in monobath at 24 °C for 6:00 { agitate none }\n")
    check(light_of(value) == [("develop", 360)], "light waits for the end of a monobath", light_of(value))


def check_short_fixes():
    """Light was allowed at the end of the first fix, however short. Two minutes of fix are two minutes: of two fixes of
    1:30 the second has to do half a minute; where a process has less than two minutes, its last fix has to end."""
    value, _ = cues(DEVELOP % "" + FIX % ("first-fix", "1:30") + FIX % ("second-fix", "1:30"))
    check(light_of(value) == [("second-fix", 30)], "minutes of fix add up", light_of(value))
    value, _ = cues(DEVELOP % "" + FIX % ("first-fix", "0:40") + FIX % ("second-fix", "0:50"))
    check(light_of(value) == [("second-fix", 50)], "too few minutes of fix: the end of the last", light_of(value))


def check_drained_from_the_start():
    """Where a bath is shorter than its drain, the tank drains from the start, and `continuously` was yet shown as an
    agitation to the very end, in the drain, and never reported."""
    value, _ = cues("  step develop in developer at 20 °C for 0:04 { agitate continuously }\n" + FIX % ("fix", "5:00"))
    check(not any(cue["kind"].startswith("agitation") and cue["step"] == 1 for cue in value["cues"]),
          "nothing is agitated while the tank drains")
    _, done = cues("  step develop in developer at 20 °C for 0:04 { agitate first 4 s, continuously }\n" +
                   FIX % ("fix", "5:00"))
    check(b"the agitation at 0:00 lasts until 0:04" in done.stderr, "one before it is reported", done.stderr.decode())


def check_dry_between():
    """The wet time counted drying between two baths, and what stood before the first pour."""
    dry = "  step dry-%d in air for 2:00:00\n"
    value, _ = cues(dry % 1 + DEVELOP % "" + dry % 2 + FIX % ("fix", "5:00") + dry % 3)
    check(value["totals"]["wet_min_s"] == 14 * 60, "wet time leaves drying out", value["totals"])
    check(value["totals"]["total_min_s"] == 14 * 60 + 6 * 3600, "total time does not", value["totals"])


def check_lengthening_beyond_all_limits():
    """A bath with many rolls behind it and a lengthening that compounds made a time that no figure holds: development
    lasted 0:00, and the sheet said so. It is an error now, whichever way the time is lost."""
    _, done = cues(DEVELOP % "", "--done=developer=20", lengthen="1000 % per roll per 1000 L, compounded")
    check(done.returncode == 1 and b"would last longer than 10 years" in done.stderr, "too long", done.stderr.decode())
    _, done = cues(DEVELOP % "; round to 1 h", "--done=developer=1")
    check(done.returncode == 1 and b"would last no time" in done.stderr, "rounded to nothing", done.stderr.decode())


def check_ties():
    """1:40 lengthened by 4.5 % is 1:44.5, which is rounded up; in binary it lies a little below."""
    step = "  step develop in developer at 20 °C for 1:40 { agitate none%s }\n" + FIX % ("fix", "5:00")
    value, _ = cues(step % "", "--done=developer=1")
    check(value["steps"][0]["used_time"]["low_s"] == 105, "half a second is rounded up", value["steps"][0]["used_time"])
    for tenths in range(1, 200):
        percent = tenths / 10
        value, _ = cues(step % "; round to 0.2 s", "--done=developer=1", lengthen=f"{percent} % per roll per 1 L")
        wanted = (1000 + tenths + 1) // 2 * 200  # ms, in steps of 0.2 s, half up
        if round(value["steps"][0]["used_time"]["low_s"] * 1000) != wanted:
            check(False, f"{percent} % of 1:40, half up", value["steps"][0]["used_time"])
            return
    check(True, "199 lengthenings are rounded half up")


def check_agitation_of_nothing():
    """`0 s every 1 ms` over ten years was counted through, one by one, for minutes."""
    begun = time.monotonic()
    _, done = cues("  step develop in developer at 20 °C for 3600 days { agitate 0 s every 1 ms }\n")
    check(done.returncode == 1 and time.monotonic() - begun < 10, "an agitation of nothing takes no time",
          done.stderr.decode())


def check_range_rounded_to_one():
    """A range of times that a reading shortens was rounded to one time, and said so twice: "0:30 to 0:30". What came
    later was said to assume its earliest end."""
    rated = "  step develop in developer at 20 °C for 0:14 .. 0:17 { agitate none; round to 30 s; coefficient 8 % per K }\n"
    value, done = cues(rated + FIX % ("fix", "5:00"), "--at=develop=19C", "--process=one")
    lasts = value and [(cue["kind"], cue["text"]) for cue in value["cues"] if "end" in cue["kind"] and cue["step"] == 1]
    check(lasts == [("end", "step over")], "a range that is rounded to one time ends once", lasts or done.stderr.decode())
    check(value and not any(cue["assumes_earliest_end"] for cue in value["cues"]), "and what follows assumes nothing")
    text = run("cues", "--at=develop=19C", "-", stdin=(HEAD % ("1 % per roll per 1 L", rated + FIX % ("fix", "5:00"))).encode())
    check(b"0:30 to 0:30" not in text.stdout and b", 0:30 (declared 0:14 to 0:17" in text.stdout, "it is said once", text)


def check_agitations_that_meet():
    """Where one phase of agitation begins the moment another ends, the cue list said "agitate" and then "let stand", and
    the film stood where it should have been moved."""
    value, _ = cues("  step develop in developer at 20 °C for 9:00 { agitate first 10 s, continuously for 15 s }\n" +
                    FIX % ("fix", "5:00"))
    kinds = [cue["kind"] for cue in value["cues"] if cue["at_s"] == 10]
    check(kinds == ["agitation-end", "agitation-start"], "agitation ends before it begins again", kinds)


def check_signs_of_units():
    """`20℃`, without a space, was no number: the first byte of ℃ and ℉ is that of the minus sign U+2212."""
    for written, celsius in (("20℃", 20), ("68℉", 20), ("−5℃", -5), ("20 ℃", 20)):
        source = f"wetside 1\ntank jar {{ holds 1 L; bath {written} }}\n"
        done = run("model", "-", stdin=source.encode())
        bath = json.loads(done.stdout)["tanks"][0]["water_bath"] if done.returncode == 0 else None
        check(bath and bath["nominal_c"] == celsius, f"{written} is {celsius} °C", done.stderr.decode())


def main():
    check_range_rounded_to_one()
    check_agitations_that_meet()
    check_signs_of_units()
    check_monobath()
    check_short_fixes()
    check_drained_from_the_start()
    check_dry_between()
    check_lengthening_beyond_all_limits()
    check_ties()
    check_agitation_of_nothing()
    end()


main()
