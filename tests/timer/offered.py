#!/usr/bin/env python3
# builds: plain
# lasts: 10
"""Which log a run that was cut off is found by, in the default folder: that of the same plan, whatever other loads, or
processes whose names differ only in letters that no file name has, began after it."""

import os
import re
import subprocess

import rig
from harness import check, run

RECIPE = """wetside 1
tank jar "Jar" { holds 600 mL; takes 1 x 135; fill 2 s; drain 2 s }
solution soup { role developer; dilute 1+9; one-shot; hazards none; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
process grün { develops black-and-white-negative; tank jar
  step develop in soup at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 60 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for at least 20:00
}
process grön from grün { step develop for 9:00 }
process NAME from grün { step develop for 10:00 }
"""
LONG = "n" * 300


def timer(folder, process, *options):
    path = os.path.join(folder, f"timer-{len(os.listdir(folder))}.sh")
    made = run("timer", "--process", process, *options, "-o", path, os.path.join(folder, "two.wet"))
    check(made.returncode == 0, f"a timer of {process[:10]} {' '.join(options)}", made)
    return path


def whole(script, folder):
    """A whole run without a terminal, by the script's own test clock, into the default folder; its log."""
    clock = os.path.join(folder, "clock")
    with open(clock, "w", encoding="ascii") as file:
        file.write("100.00\n")
    logs = os.path.join(folder, "state", "wetside")
    before = set(os.listdir(logs)) if os.path.isdir(logs) else set()
    done = subprocess.run(["dash", script, "--clock-file", clock], cwd=folder, check=False, env=rig.environment(folder),
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=60)
    new = set(os.listdir(logs)) - before if os.path.isdir(logs) else set()
    check(done.returncode == 0 and len(new) == 1, "a run into the default folder", (done, new))
    return os.path.join(logs, new.pop()) if new else None


def cut_off(log):
    """Takes the log's end away, after the first pour."""
    with open(log, encoding="utf-8") as file:
        lines = file.readlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("event\t") and "\tbegun\t" in line)
    with open(log, "w", encoding="utf-8") as file:
        file.writelines(lines[:at + 2])


def goes_on(script, folder):
    """Whether the script takes up a run that was cut off, asked by its own options."""
    done = subprocess.run(["dash", script, "--clock-file", os.path.join(folder, "clock"), "--go-on"], cwd=folder, check=False,
                          env=rig.environment(folder), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          timeout=60)
    logs = os.path.join(folder, "state", "wetside")
    resumed = [name for name in os.listdir(logs) if re.search("\tresumed\t", rig.harness.read(os.path.join(logs, name)))]
    return done, resumed


def main():
    folder = rig.scratch("offered")
    with open(os.path.join(folder, "two.wet"), "w", encoding="utf-8") as file:
        file.write(RECIPE.replace("NAME", LONG))
    first = timer(folder, "grün")
    log = whole(first, folder)
    cut_off(log)
    for other in (timer(folder, "grön"), timer(folder, "grün", "--done", "fixer=2")):
        newer = whole(other, folder)
        check(os.path.basename(newer) > os.path.basename(log), "another plan's log of the same name is newer", (newer, log))
    done, resumed = goes_on(first, folder)
    check(done.returncode == 0 and resumed == [os.path.basename(log)], "the run of this plan is found behind them", (done, resumed))
    done, resumed = goes_on(first, folder)
    check(len(resumed) == 1, "and not again when it is finished", (done, resumed))
    log = whole(timer(folder, LONG), folder)
    check(os.path.basename(log).startswith("n" * 100), "a process with a name as long as can be has a log", log)


main()
rig.leave()
rig.harness.end()
