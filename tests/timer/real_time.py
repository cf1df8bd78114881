#!/usr/bin/env python3
# builds: plain
# lasts: 45
"""Runs in real time, without a terminal, in every shell: while the machine is idle, while both cores are busy, and
stopped for five seconds in the middle. What each run prints is timed here too, apart from its own log."""

import os
import re
import signal
import subprocess
import sys
import threading
import time

import rig
from harness import check

LINE = re.compile(r"^(-?)(\d+):(\d\d)  ")


def timed_run(command, folder, disturb=None, options=(), **more):
    """Runs the quick recipe; returns (log, status, off): how far each printed cue was off the time it was due here."""
    log = os.path.join(folder, "run.log")
    process = rig.start([*command, rig.script(rig.QUICK), "--log", log, *options], folder, **more)
    off, begun = [], [None]

    def read():
        for line in process.stdout:
            came = time.monotonic()
            match = LINE.match(line)
            if line.startswith("no terminal"):
                begun[0] = came
            elif match and begun[0] is not None:
                off.append((line.strip(), came - begun[0] - int(match.group(2)) * 60 - int(match.group(3))))

    reader = threading.Thread(target=read)
    reader.start()
    if disturb:
        disturb(process, log)
    try:
        status = process.wait(50)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        status = process.wait()
    reader.join()
    return rig.Log(log), status, off


def judge(log, status, off, what):
    """Every cue within a second, by the log and by the clock here."""
    wrong = [(cue.step, cue.word, cue.planned, cue.actual) for cue, error in zip(log.cues(), log.errors())
             if not -0.6 <= error < 1]
    wrong += log.false()
    seen = [one for one in off if not -0.8 <= one[1] < 1.2]
    errors = log.errors() or [99]
    return [
        (f"{what}: ends well", status == 0, status),
        (f"{what}: every cue comes", rig.came(log) == rig.expected(log.plan), rig.came(log)),
        (f"{what}: within a second of its deadline", not wrong, wrong),
        (f"{what}: on the clock of the test too", not seen and len(off) == len(log.cues()), seen or len(off)),
        (f"{what}: no error grows", abs(errors[-1] - errors[0]) < 0.6, errors),
    ]


def idle(name, command):
    log, status, off = timed_run(command, rig.scratch(name))
    return judge(log, status, off, "real time")


def loaded(name, command):
    log, status, off = timed_run(command, rig.scratch(name))
    return judge(log, status, off, "both cores busy")


def stopped(name, command):
    """Stopped for five seconds in the developer, four seconds after its pour."""

    def disturb(process, log):
        rig.wait_for(lambda: rig.logged(log, "begun", 2), 20)
        time.sleep(1.5)
        os.kill(process.pid, signal.SIGSTOP)
        time.sleep(5)
        os.kill(process.pid, signal.SIGCONT)

    log, status, _ = timed_run(command, rig.scratch(name), disturb, ("--from", "develop"))
    late = [cue for cue in log.cues() if "late" in cue.remark]
    at_once = {float(cue.actual) for cue in late}
    unshifted = [error < 1 for cue, error in zip(log.cues(), log.errors()) if cue not in late]
    wanted = [cue for cue in rig.expected(log.plan) if cue[0] > 1]
    should = [cue for cue, error in zip(log.cues(), log.errors()) if error >= 1]
    return [
        ("stopped: ends well", status == 0, status),
        ("stopped: no cue is lost", rig.came(log) == wanted, rig.came(log)),
        ("stopped: the overdue cues come at once", late and max(at_once) - min(at_once) < 1, late),
        ("stopped: they are marked late, and only they", late == should, (late, should)),
        ("stopped: later cues are unshifted", all(unshifted) and len(unshifted) > 5, log.errors()),
    ]


def jumping(name, command):
    """The wall clock jumps by an hour at each look, forwards and back."""
    folder = rig.scratch(name)
    tools = os.path.join(folder, "tools")
    os.mkdir(tools)
    with open(os.path.join(tools, "date"), "w", encoding="ascii") as file:
        file.write(f"#!/bin/sh\nPATH='{os.environ['PATH']}'\nif [ -f '{folder}/ahead' ]; then rm '{folder}/ahead'; "
                   f"else : >'{folder}/ahead'; exec date -d '1 hour' \"$@\"; fi\nexec date \"$@\"\n")
    os.chmod(os.path.join(tools, "date"), 0o755)
    log, status, off = timed_run(command, folder, PATH=tools + ":" + os.environ["PATH"])
    jumped = len({int(event.epoch) // 1800 for event in log.events}) > 1
    return judge(log, status, off, "wall clock jumps") + [("wall clock jumps: it did", jumped, "")]


def without_uptime(name, command):
    """On a system that has no /proc: date alone."""
    folder = rig.scratch(name)
    with open(rig.script(rig.QUICK), encoding="utf-8") as file:
        text = file.read()
    path = os.path.join(folder, "date.sh")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text.replace("/proc/", "/no/such/"))
    log_path = os.path.join(folder, "run.log")
    output, status = rig.finish(rig.start([*command, path, "--log", log_path], folder), 50)
    log = rig.Log(log_path)
    wrong = [(cue, error) for cue, error in zip(log.cues(), log.errors()) if not -1 <= error <= 1]
    return [("date alone: ends well", status == 0, output),
            ("date alone: is used", log.head["clock"][0] == "date", log.head),
            ("date alone: every cue within a second", not wrong and rig.came(log) == rig.expected(log.plan), wrong)]


def rehearsal(name, command):
    """Ten times as fast: half a second is five seconds then, as --help says; a log of it is no log of a run."""
    folder = rig.scratch(name)
    begun = time.monotonic()
    log, status, _ = timed_run(command, folder, options=("--rehearse", "10"))
    took = time.monotonic() - begun
    off = [cue for cue, error in zip(log.cues(), log.errors(10)) if not -6 <= error < 10]
    with open(os.path.join(folder, "run.log"), "r+", encoding="utf-8") as file:
        lines = [line for line in file.read().split("\n") if "\tfinished\t" not in line]
        file.seek(0)
        file.truncate()
        file.write("\n".join(lines))
    output, refused = rig.finish(rig.start([*command, rig.script(rig.QUICK), "--log", "run.log"], folder), 10)
    return [("rehearsal: ends well and soon", status == 0 and took < 8, (status, took)),
            ("rehearsal: its log goes on only as a rehearsal", "--rehearse" in output and refused == 2, output),
            ("rehearsal: every cue comes in order", rig.came(log) == rig.expected(log.plan), rig.came(log)),
            ("rehearsal: as exact as it can be", not off, off)]


def in_dash(test):
    for what, passed, why in test("dash", ["dash"]):
        check(passed, f"dash: {what}", why)


def main():
    rig.script(rig.QUICK)
    rig.together(lambda: rig.in_every_shell(idle), lambda: rig.in_every_shell(stopped),
                 lambda: in_dash(jumping), lambda: in_dash(without_uptime), lambda: in_dash(rehearsal))
    busy = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(os.cpu_count() or 2)]
    try:
        rig.in_every_shell(loaded)
    finally:
        for process in busy:
            process.kill()
            process.wait()


main()
rig.leave()
