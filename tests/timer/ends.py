#!/usr/bin/env python3
# builds: plain
# lasts: 30
"""Runs that end before their time: signals, a terminal that hangs up, kill -9 and going on, two timers on one log, a
log that cannot be written."""

import os
import re
import signal
import subprocess
import time

import rig
from harness import check

LONG = ("examples/colour-negative-bleach-fix.wet", "colour-negative")
SIGNALS = {"TERM": 143, "HUP": 129, "INT": 130}


def signalled(name, command):
    """Without a terminal: noted in the log, the right status at once, nothing left running, no mark left."""
    results = []
    for word, wanted in SIGNALS.items():
        folder = rig.scratch(name)
        log_path = os.path.join(folder, "run.log")
        process = rig.start([*command, rig.script(*LONG), "--from", "dry", "--log", log_path], folder)
        rig.wait_for(lambda: rig.logged(log_path, "start"))
        rig.wait_for(lambda: rig.is_asleep(process))
        sent = time.monotonic()
        os.kill(process.pid, getattr(signal, "SIG" + word))
        _, status = rig.finish(process, 8)
        took = time.monotonic() - sent
        last = rig.Log(log_path).events[-1]
        # It has hours to sleep, but a moment to be cleared away.
        rig.wait_for(lambda: not rig.session_processes(process.pid), 3)
        left = rig.session_processes(process.pid)
        results += [
            (f"{word}: ends at once with {wanted}", status == wanted and took < 5, (status, took)),
            (f"{word}: is in the log", (last.word, last.remark) == ("signal", word), last),
            (f"{word}: nothing is left running", not left, left),
            (f"{word}: no mark is left", os.listdir(folder) == ["run.log"], os.listdir(folder)),
        ]
    return results


def on_terminal(name, command):
    """The same on a terminal, which is left as it was; and a terminal that hangs up."""
    results = []
    for word, wanted in (("TERM", 143), ("HUP", 129), (None, 129)):
        folder = rig.scratch(name)
        log_path = os.path.join(folder, "run.log")
        terminal = rig.begun([*command, rig.script(rig.QUICK), "--log", log_path], folder)
        terminal.send("\r")
        rig.wait_for(lambda: rig.logged(log_path, "agitation-start"))
        # Once in some hundred times yash loses a signal that comes while it starts a program; here it waits for a key.
        terminal.pump(0.3)
        after = terminal.before
        if word:
            os.kill(terminal.pid, getattr(signal, "SIG" + word))
            status = terminal.wait(8)
            after = terminal.settings()
            terminal.close()
        else:
            terminal.close()
            status = wait_without_terminal(terminal.pid)
        last = rig.Log(log_path).events[-1]
        what = f"{word} on a terminal" if word else "hang-up"
        results += [
            (f"{what}: ends with {wanted}", status == wanted, status),
            (f"{what}: is in the log", last.word == "signal", last),
            (f"{what}: the terminal is left as it was", after == terminal.before, after),
            (f"{what}: no mark is left", not os.path.exists(log_path + ".lock"), os.listdir(folder)),
        ]
    return results


def wait_without_terminal(pid):
    until = time.monotonic() + 8
    while time.monotonic() < until:
        done, status = os.waitpid(pid, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.05)
    os.kill(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    return None


def killed(name, command):
    """Killed in the developer, started again with the same log: what came due meanwhile is late, the rest in time."""
    folder = rig.scratch(name)
    log_path = os.path.join(folder, "run.log")
    arguments = [*command, rig.script(rig.QUICK), "--log", log_path]
    process = rig.start([*arguments, "--from", "2"], folder)
    rig.wait_for(lambda: rig.logged(log_path, "agitation-end", 2))
    os.killpg(process.pid, signal.SIGKILL)  # a printf that some shells run as a program must not write on either
    rig.finish(process, 5)
    rig.wait_for(lambda: not rig.session_processes(process.pid))
    with open(log_path, "a", encoding="utf-8") as file:
        file.write("cue\t2026-01-01T00:0")  # as if the last line had been cut off
    time.sleep(3)
    output, status = rig.finish(rig.start(arguments, folder), 40)
    log = rig.Log(log_path)
    late = [cue for cue in log.cues() if "late" in cue.remark]
    rest = [cue for cue in log.cues() if "late" not in cue.remark]
    off = [cue for cue in rest if not -0.6 <= float(cue.actual) - float(cue.planned) < 1]
    return [
        ("kill -9: goes on", status == 0 and log.events[-1].word == "finished", output),
        ("kill -9: says where the step is", "This run was cut off" in output and " of 0:09." in output, output),
        ("kill -9: no cue is lost, none comes twice",
         rig.came(log) == [cue for cue in rig.expected(log.plan) if cue[0] > 1], rig.came(log)),
        ("kill -9: the overdue cues come at once, marked late", late and
         all(float(cue.actual) - float(late[0].actual) < 1 for cue in late), late),
        ("kill -9: the remaining time is right", not off, off),
        ("kill -9: the head is written once", sum(line.startswith("wetside-log") for line in log.lines) == 1, ""),
        ("kill -9: the torn line stays a line of its own", "cue\t2026-01-01T00:0" in log.lines, log.lines[-30:]),
    ]


def two_timers(name, command):
    """A second timer on one log refuses; after the first is gone, whatever its mark says, the next one goes on."""
    folder = rig.scratch(name)
    log_path = os.path.join(folder, "run.log")
    arguments = [*command, rig.script(rig.QUICK), "--from", "3", "--log", log_path]
    first = rig.start(arguments, folder)
    rig.wait_for(lambda: rig.logged(log_path, "pour"))
    output, status = rig.finish(rig.start(arguments, folder), 8)
    with open(log_path, encoding="utf-8") as file:
        starts = file.read().count("\tstarted\t")
    os.kill(first.pid, signal.SIGKILL)
    rig.finish(first, 5)
    left = os.path.exists(log_path + ".lock")
    _, after = rig.finish(rig.start([*arguments, "--from", "4"], folder), 20)
    return [
        ("two timers: the second refuses", status == 2 and "another timer" in output and starts == 1, (status, output)),
        ("two timers: a stale mark is no timer", left and after == 0, (left, after)),
        ("two timers: the mark goes", os.listdir(folder) == ["run.log"], os.listdir(folder)),
    ]


def step_is_over(boot):
    """Going on when the step has long been over: it is said, and every cue is marked late; a restart of the machine is
    no matter, since the wall clock is asked then."""
    folder = rig.scratch("over")
    log_path = os.path.join(folder, "run.log")
    arguments = ["dash", rig.script(rig.QUICK), "--log", log_path]
    begun = time.monotonic()
    process = rig.start([*arguments, "--from", "develop"], folder)
    rig.wait_for(lambda: rig.logged(log_path, "full", 2))
    os.kill(process.pid, signal.SIGKILL)
    rig.finish(process, 5)
    log = rig.Log(log_path)
    with open(log_path, "w", encoding="utf-8") as file:
        for line in log.lines:
            fields = line.split("\t")
            if fields[0] in ("cue", "event"):
                fields[2], fields[3] = str(int(fields[2]) - 60), f"{max(float(fields[3]) - 60, 0):.2f}"
            elif fields[0] == "clock" and boot:
                fields[2] = "another-boot"
            file.write("\t".join(fields) + "\n")
    output, status = rig.finish(rig.start(arguments, folder), 30)
    passed = time.monotonic() - begun
    ends = [cue for cue in rig.Log(log_path).cues(2) if cue.word == "end"]
    what = "the step is over" + (" and the machine restarted" if boot else "")
    check(status == 0 and "The step is over since 0:5" in output, f"{what}: it is said", output)
    late = [float(cue.actual) - float(cue.planned) for cue in ends]
    said = [int(re.match(r"late (\d+)", cue.remark)[1]) for cue in ends if cue.remark.startswith("late ")]
    check(len(late) == len(said) == 1 and 60 < float(ends[0].actual) < 61 + passed and abs(late[0] - said[0]) <= 1,
          f"{what}: its end is late by the right time", (ends, passed))


def offers():
    """A run that was cut off is offered from the default folder, on a terminal; another plan's log is refused."""
    folder = rig.scratch("offers")
    command = ["dash", rig.script(rig.QUICK)]
    terminal = rig.Terminal(command, folder)
    terminal.expect("Enter: begin")
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("I begin to pour")
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("next 0:01 tank full")
    os.kill(terminal.pid, signal.SIGKILL)
    os.waitpid(terminal.pid, 0)
    terminal.close()
    logs = os.listdir(os.path.join(folder, "state", "wetside"))
    logs = sorted(name for name in logs if name.endswith(".log"))
    check(len(logs) == 1 and logs[0].startswith("quick-2"), "the default log is in XDG_STATE_HOME", logs)
    terminal = rig.Terminal(command, folder)
    check(terminal.expect("This run was cut off") and terminal.expect("Step 1, pre-wet, poured 2") and
          terminal.expect("n: begin a new run"), "a run that was cut off is offered", terminal.text)
    terminal.pump(1.1)
    terminal.send("n")
    check(terminal.expect("4 steps. The log is"), "a new run can be begun instead", terminal.text)
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("I begin to pour")
    terminal.send("\x03")
    terminal.expect("q: stop")
    terminal.pump(0.3)
    terminal.send("q")
    terminal.wait()
    terminal.close()
    logs = os.listdir(os.path.join(folder, "state", "wetside"))
    check(len(logs) == 2 and all(name.endswith(".log") for name in logs), "it has a log of its own", logs)
    terminal = rig.Terminal(command, folder)
    check(terminal.expect("4 steps. The log is"), "where nothing was poured nothing is offered", terminal.text)
    terminal.pump(0.3)
    terminal.send("q")
    check(terminal.wait() == 130 and len(os.listdir(os.path.join(folder, "state", "wetside"))) == 2,
          "a run that never began leaves no log", terminal.text)
    terminal.close()
    done = subprocess.run(["dash", rig.script("examples/black-and-white.wet", "black-and-white"), "--log",
                           os.path.join(folder, "state", "wetside", sorted(logs)[0])], cwd=folder, check=False,
                          env=rig.environment(folder), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE)
    check(done.returncode == 2 and b"of another plan" in done.stderr, "another plan's log is refused", done)
    with open(os.path.join(folder, "text"), "w", encoding="utf-8") as file:
        file.write("no log\n")
    done = subprocess.run([*command, "--log", "text"], cwd=folder, check=False, env=rig.environment(folder),
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    with open(os.path.join(folder, "text"), encoding="utf-8") as file:
        check(done.returncode == 2 and file.read() == "no log\n", "a file that is no log is left alone", done)


def log_is_lost():
    """A log that can no longer be written stops no run."""
    folder = rig.scratch("lost")
    os.mkdir(os.path.join(folder, "logs"))
    log_path = os.path.join(folder, "logs", "run.log")
    process = rig.start(["dash", rig.script(rig.QUICK), "--from", "wash", "--log", log_path], folder)
    rig.wait_for(lambda: rig.logged(log_path, "pour"))
    os.rename(os.path.join(folder, "logs"), os.path.join(folder, "gone"))
    output, status = rig.finish(process, 20)
    check(status == 0 and output.count("cannot be written any more") == 1 and "step over" in output,
          "a log that is lost stops no run, and is said once", output)


rig.script(rig.QUICK)
rig.script(*LONG)
rig.script("examples/black-and-white.wet", "black-and-white")
rig.together(lambda: rig.in_every_shell(signalled), lambda: rig.in_every_shell(on_terminal),
             lambda: rig.in_every_shell(killed), lambda: rig.in_every_shell(two_timers),
             lambda: step_is_over(True), lambda: step_is_over(False), offers, log_is_lost)
rig.leave()
