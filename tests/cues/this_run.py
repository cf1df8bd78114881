#!/usr/bin/env python3
"""What --at, --done, --room and `on hand` change in the cue list, against sums done here: a time between two rows of a table
lies on the straight line of the logarithm of time; a tired bath takes longer; nothing is guessed beyond the table."""

import json
import math
import os
import random
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import check, end, run  # noqa: E402

SEED = 20260314
TABLE = {18: 570, 20: 480, 24: 330}  # °C: s
RECIPE = """wetside 1
tank small {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s
  cools 20.0 °C to 20.2 °C within 10:00 in a room at 22 °C }}
thermometer no-2 {{ reads 0.1 °C within 0.1 °C; correction {correction} °C; checked 2026-02-01 }}
solution soup {{ role {role}; reuse; {lengthen}; hazards none; waste developer }}
solution hypo {{ role fix; dilute 1+4; reuse; hazards none; waste silver }}
{hand}
process film {{
  develops {family}
  tank small
  thermometer no-2
  step develop in soup at 20 ± 0.5 °C for 8:00 {{ {rule}; agitate first 30 s, then 10 s every 1:00; {more} }}
  step fix in hypo at 20 ± 2 °C for at least 5:00 {{ agitate first 30 s, then 10 s every 1:00 }}
  step wash in running water at 20 ± 2 °C for at least 10:00
}}
"""
USUAL = {
    "rule": "time { 18 C 9:30, 20 C 8:00, 24 C 5:30 }", "more": "", "family": "black-and-white-negative", "hand": "",
    "lengthen": "lengthen 10 % per roll per 1 L, added up", "role": "developer", "correction": "0",
}


def cues(*options, **changes):
    """The completed run of the recipe, changed."""
    recipe = RECIPE.format(**dict(USUAL, **changes))
    return run("cues", "--to", "json", *options, "-", stdin=recipe.encode())


def develop(*options, **changes):
    """The developing step of a run that goes well: its seconds, and the whole of it."""
    done = cues(*options, **changes)
    if done.returncode != 0:
        return None, done.stderr.decode()
    step = json.loads(done.stdout)["steps"][0]
    return step["time_end_s"] - step["start_s"], step


def expect(name, wanted, *options, **changes):
    """The developing time of a run, and of the words that give the reason."""
    seconds, step = develop(*options, **changes)
    return check(seconds == wanted, f"{name}: {wanted} s", f"{seconds} s\n{step}") and step


def refused(name, check_id, words, *options, **changes):
    """The run is refused with exit status 1, by one finding of this id, and nothing comes out."""
    done = cues(*options, **changes)
    message = done.stderr.decode()
    errors = [line for line in message.splitlines() if ": error: " in line]
    fits = done.returncode == 1 and done.stdout == b"" and len(errors) == 1 and f"[{check_id}]" in errors[0]
    check(fits and words in message, f"{name} is refused", f"status {done.returncode}\n{message}")


def log_linear(celsius):
    rows = sorted(TABLE.items())
    (low, long), (high, short) = next(pair for pair in zip(rows, rows[1:]) if celsius <= pair[1][0])
    return math.exp(math.log(long) + (math.log(short) - math.log(long)) * (celsius - low) / (high - low))


def half_up(seconds, to=1):
    return math.floor(seconds / to + 0.5) * to


def check_temperature():
    # by hand: 22 °C is half way from 20 to 24, the root of 480 × 330 is 397.99
    step = expect("22 °C", 398, "--at", "develop=22C")
    check(step and step["used_time"]["measured_c"] == 22 and step["time"]["low_s"] == 480, "both times are told", step)
    expect("22 °C, rounded to 5 s", 400, "--at", "develop=22C", more="round to 5 s")
    expect("71.6 °F is 22 °C", 398, "--at", "develop=71.6 °F")
    expect("the first row", 570, "--at", "develop=18C")
    expect("the last row", 330, "--at", "develop=24C")
    expect("the working point", 480, "--at", "develop=20C")
    expect("read 22.3 °C on a thermometer that shows 0.3 K too much", 398, "--at", "develop=22.3C", correction="-0.3")
    chance = random.Random(SEED)
    for _ in range(25):
        celsius = round(chance.uniform(18, 24), 1)
        expect(f"{celsius} °C", half_up(log_linear(celsius)), "--at", f"develop={celsius}C")
    expect("a coefficient of 9 %, 1 K warmer", half_up(480 * math.exp(-0.09)), "--at", "develop=21C",
           rule="coefficient 9 % per K", lengthen="usable 18 .. 24 °C")
    ratio = math.exp(80000 / 8.314462618 * (1 / 293.15 - 1 / 294.15))
    expect("80 kJ/mol, 1 K warmer", half_up(480 / ratio), "--at", "develop=21C", rule="activation energy 80 kJ/mol",
           lengthen="usable 18 .. 24 °C")
    expect("inside the window without a rule", 480, "--at", "develop=20.4C", rule="note \"none\"")


def check_refusals():
    refused("beyond the table", "outside-time-table", "temper the bath again", "--at", "develop=24.1C")
    refused("short of the table", "outside-time-table", "temper the bath again", "--at", "develop=17.9C")
    refused("a coefficient beyond the usable range", "outside-time-table", "temper the bath again", "--at",
            "develop=24.1C", rule="coefficient 9 % per K", lengthen="usable 18 .. 24 °C")
    refused("no rule", "outside-time-table", "does not say how its time depends", "--at", "develop=22C",
            rule="note \"none\"")
    colour = {"family": "C-41", "role": "colour-developer", "rule": "coefficient 9 % per K",
              "more": 'allow colour-compensated "to be refused"; allow jump-between-baths "x"'}
    refused("colour without a maker's table", "outside-time-table", "maker's own table", "--at", "develop=21C",
            lengthen="usable 18 .. 24 °C", **colour)
    colour.update(rule="time by maker { 18 C 9:30, 20 C 8:00, 24 C 5:30 }", more="")
    expect("colour by its maker's table", 398, "--at", "develop=22C", **colour)
    refused("a step that is not there", "unknown-name", "no step is called `devlop`", "--at", "devlop=22C")
    refused("a bath that is not there", "unknown-name", "no solution is called `soop`", "--done", "soop=2")
    for option, value in (("--at", "develop=22"), ("--at", "develop=22 mL"), ("--at", "=22C"), ("--at", "develop"),
                          ("--done", "soup=-1"), ("--done", "soup=2C"), ("--on", "2026-02-30"), ("--room", "20")):
        done = cues(option, value)
        check(done.returncode == 2 and done.stdout == b"" and done.stderr.startswith(b"wetside: "),
              f"{option} {value} is wrong usage", done.stderr.decode())
    done = cues("--at", "develop=22C", "--at", "develop=21C")
    check(done.returncode == 2, "a step cannot have two temperatures", done.stderr.decode())


def check_tired_baths():
    # 480 × (1 + 10 % × N / 1 L)
    for rolls, wanted in ((0, 480), (1, 528), (4, 672), (2.5, 600)):
        expect(f"{rolls} rolls done", wanted, "--done", f"soup={rolls}")
    expect("4 rolls done by every reused bath", half_up(480 * 1.4), "--done", "4")
    expect("compounded", half_up(480 * 1.1**4), "--done", "soup=4",
           lengthen="lengthen 10 % per roll per 1 L, compounded")
    # 20 % for each roll that half a litre has done: 4 rolls in a litre are 2 in half a litre
    expect("20 % per roll per half a litre", 672, "--done", "soup=4",
           lengthen="lengthen 20 % per roll per 500 mL, added up")
    expect("film and warmth together", half_up(log_linear(22) * 1.4), "--done", "soup=4", "--at", "develop=22C")
    hand = "on hand soup 2 L mixed 2026-03-01 done 4 rolls"
    expect("on hand, 4 rolls in 2 L", 576, "--on", "2026-03-02", hand=hand)
    expect("--done goes before what is on hand", 528, "--on", "2026-03-02", "--done", "soup=2", hand=hand)
    done = cues("--on", "2026-03-02", hand=hand)
    line = json.loads(done.stdout)["this_run"] if done.returncode == 0 else done.stderr.decode()
    check("soup has done 4" in line.replace("\u00a0", " ") and "2026-03-02" in line, "the run's line tells it", line)


def check_the_declared_run():
    done = cues()
    usual = json.loads(done.stdout)
    check(usual["this_run"] is None and all(step["used_time"] is None for step in usual["steps"]),
          "a run as declared tells of nothing")
    changed = json.loads(cues("--at", "develop=22C", "--room", "19C").stdout)
    check(changed["fingerprint"] == usual["fingerprint"], "this run is no part of the fingerprint")
    check("room 19" in changed["this_run"] and "develop measured at 22" in changed["this_run"], "but it is told",
          changed["this_run"])


def main():
    check_temperature()
    check_refusals()
    check_tired_baths()
    check_the_declared_run()
    end()


if __name__ == "__main__":
    main()
