#!/usr/bin/env python3
# builds: plain
# lasts: 12
"""Light that the recipe puts on later than a bath has to last: the timer tells it when it comes, where the bath goes on
for so long; a bath that is over sooner gives light with the next one, and ends when it is over."""

import os
import subprocess

import rig
from harness import check

RECIPE = "tests/timer/light.wet"


def goes_on():
    """By hand: the fix goes on past its earliest end until light comes."""
    folder = rig.scratch("goes on")
    log_path = os.path.join(folder, "run.log")
    terminal = rig.Terminal(["dash", rig.script(RECIPE), "--from", "fix", "--no-bottle-check", "--log", log_path],
                            folder, TERM="xterm")
    check(terminal.expect("until step 2, fix, 0:07"), "before the run it says for how long the film stays in the dark",
          terminal.text)
    terminal.expect("begin with step 2")
    terminal.send("\r")
    terminal.expect("I begin to pour")
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("now: may be drained")
    dark = terminal.expect("no light: the lid stays on")
    came = rig.wait_for(lambda: terminal.pump(0.05) and rig.logged(log_path, "light", 2), 15)
    check(dark and came and terminal.expect("light is allowed"), "light waits for its moment behind the earliest end",
          terminal.text[-1000:])
    terminal.send("\r")
    rig.wait_for(lambda: terminal.pump(0.05) and rig.logged(log_path, "end", 2), 15)
    lights = [float(cue.actual) - float(cue.planned) for cue in rig.Log(log_path).cues(2) if cue.word == "light"]
    check(len(lights) == 1 and 0 <= lights[0] < 1, "and comes once, within a second of it", lights)
    terminal.close()


def is_over_sooner():
    """Without a keyboard each bath is drained at its earliest end, on a clock of its own."""
    folder = rig.scratch("over")
    clock, log_path = os.path.join(folder, "clock"), os.path.join(folder, "run.log")
    with open(clock, "w", encoding="ascii") as file:
        file.write("1000.00 0\n")
    done = subprocess.run(["dash", rig.script(RECIPE), "--clock-file", clock, "--log", log_path], cwd=folder,
                          env=rig.environment(folder), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, check=False, timeout=60)
    log = rig.Log(log_path)
    cues = [(cue.word, float(cue.actual)) for cue in log.cues(2)]
    check(done.returncode == 0 and cues[-1][0] == "end" and 4 <= cues[-1][1] < 5 and "light" not in dict(cues),
          "a bath that is drained before light comes is over when it is over", (cues, done.stdout))
    check(log.events[-1].word == "finished", "and the run goes on", log.events[-1])


rig.script(RECIPE)
rig.together(goes_on, is_over_sooner)
rig.leave()
