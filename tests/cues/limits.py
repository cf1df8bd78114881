#!/usr/bin/env python3
"""The limits of a step stand on the scale that is read: where a thermometer has a correction they are what it shows, as its
aim is, in the timer, on the live page and over the cues. The figures are worked out here: reading = true - correction; a
limit is the next division inside."""

import html
import json
import math
import os
import re
import sys
from fractions import Fraction

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import check, end, run  # noqa: E402

RECIPE = """wetside 1
tank small {{ holds 1 L; takes 4 x 135 }}
thermometer no-2 {{ reads {reads}; correction {correction}; checked 2026-02-01 }}
solution soup {{ role developer; dilute 1+4; one-shot; hazards none; waste developer }}
solution hypo {{ role fix; dilute 1+4; reuse; hazards none; waste silver }}
process film {{
  develops black-and-white-negative
  tank small
  {uses}
  step develop in soup at {at} for 8:00 {{ measure; agitate first 30 s, then 10 s every 1:00 }}
  step fix in hypo at 20 ± 2 °C for 5:00 {{ agitate first 30 s, then 10 s every 1:00 }}
}}
"""


def text_of(value, decimals=1):
    return f"{math.floor(value * 10 ** decimals + Fraction(1, 2)) / 10 ** decimals:.{decimals}f}"


def limits(low, aim, high, division, correction, unit):
    """The words for a window given in the degrees that the thermometer divides."""
    def shown(value, rounded):
        return text_of(rounded((value - correction) / division) * division)
    nearest = shown(aim, lambda value: math.floor(value + Fraction(1, 2)))
    return f"read {nearest} {unit}, not below {shown(low, math.ceil)}, not above {shown(high, math.floor)}"


def said(recipe):
    """What the timer's script, the live page and the cue list say of the first step's window."""
    made = {}
    for name, words in (("timer", ["timer"]), ("live", ["live"]), ("cues", ["cues", "--to", "text"])):
        done = run(*words, "-", stdin=recipe.encode())
        if not check(done.returncode == 0, f"{name} of {recipe.splitlines()[2]}", done.stderr.decode("utf-8", "replace")):
            end()
        made[name] = done.stdout.decode("utf-8").replace("\u00a0", " ")
    window = re.search(r"step_window '[^']*' '([^']*)'", made["timer"]).group(1).replace("~", "°")
    plan = json.loads(html.unescape(re.search(r'id="plan">(.*?)</script>', made["live"], re.S).group(1)))
    heading = re.search(r"^1\. (.*?)\n  0:00", made["cues"], re.S | re.M).group(1)
    cues = re.search(", 8:00, (.*)", re.sub(r"\s+", " ", heading)).group(1)
    return {"timer": window, "live": plan["steps"][0]["limits"], "cues": cues}


def expect(name, wanted, **facts):
    recipe = RECIPE.format(**dict({"reads": "0.1 °C", "correction": "0 K", "uses": "thermometer no-2"}, **facts))
    for product, words in said(recipe).items():
        check(words.strip() == wanted, f"{product}: {name}: {wanted}", words)


def main():
    celsius, fahrenheit = "°C", "°F"
    expect("reads too high", limits(Fraction("19.5"), 20, Fraction("20.5"), Fraction("0.1"), Fraction("-0.2"), celsius),
           correction="-0.2 °C", at="20 ± 0.5 °C")
    expect("reads too low", limits(Fraction("19.5"), 20, Fraction("20.5"), Fraction("0.1"), Fraction("0.3"), celsius),
           correction="0.3 °C", at="20 ± 0.5 °C")
    expect("coarse divisions", limits(Fraction("19.3"), 20, Fraction("20.7"), Fraction("0.5"), Fraction("-0.2"), celsius),
           reads="0.5 °C", correction="-0.2 °C", at="20 ± 0.7 °C")
    expect("a °F thermometer", limits(Fraction("66.5"), 68, Fraction("69.5"), Fraction("0.5"), Fraction("0.5"), fahrenheit),
           reads="0.5 °F", correction="0.5 °F", at="68 ± 1.5 °F")
    expect("a °F thermometer that is right", "68.0 °F, not below 66.5, not above 69.5", reads="0.5 °F",
           at="68 ± 1.5 °F")
    expect("no thermometer, °F", "68.0 °F, not below 66.5, not above 69.5", uses="", at="68 ± 1.5 °F")
    expect("no thermometer, °C", "20.0 °C, not below 19.5, not above 20.5", uses="", at="20 ± 0.5 °C")
    end()


if __name__ == "__main__":
    main()
