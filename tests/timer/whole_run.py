#!/usr/bin/env python3
# builds: plain
# lasts: 35
"""A whole run on an injected clock whose sleeps overrun, in every shell: each cue within a second of its deadline, no
error that grows, in the order of the cue list; and the lists that are printed without a run."""

import json
import os
import subprocess

import rig
from harness import check, run

OVERRUN = 0.3  # seconds by which each sleep of at most ten seconds comes late
LONG = ("examples/colour-negative-bleach-fix.wet", "colour-negative")


def injected(command, path, folder, *options, locale="C.UTF-8"):
    """Runs a timer on a clock in a file; returns the completed process and the log's path."""
    clock, log = os.path.join(folder, "clock"), os.path.join(folder, "run.log")
    with open(clock, "w", encoding="ascii") as file:
        file.write(f"86399.50 {OVERRUN}\n")
    done = subprocess.run([*command, path, "--clock-file", clock, "--log", log, *options], cwd=folder, check=False,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60,
                          env=dict(rig.environment(folder), LC_ALL=locale))
    return done, log


def whole(name, command):
    """The run of an example with two hours of drying."""
    done, log_path = injected(command, rig.script(*LONG), rig.scratch(name))
    if done.returncode != 0:
        return [("a whole run ends well", False, done.stdout.decode("utf-8", "replace"))]
    log = rig.Log(log_path)
    errors = log.errors()
    late = [error for error in errors if not -0.5 <= error < 1]
    # The error does not grow: in the last two hours, slept in pieces, it is what it was in the first minute.
    return [
        ("every cue comes, in the order of the cue list", rig.came(log) == rig.expected(log.plan),
         lambda: set(rig.expected(log.plan)) ^ set(rig.came(log))),
        ("every cue comes within a second of its deadline", not late and len(errors) > 80, late),
        ("the log tells the truth", not log.false(), log.false()),
        ("no error grows", abs(errors[-1]) <= OVERRUN + 0.5, errors[-1]),
        ("nothing is called late", not [cue for cue in log.cues() if cue.remark != "-"], ""),
        ("stamps are ISO 8601", not log.wrong_stamps(), log.wrong_stamps()),
        ("the log ends with the run", log.events[-1].word == "finished", log.events[-1]),
        ("the log has a head", log.head.get("wetside-log") == ["1"] and log.head["process"][0] == LONG[1]
         and len(log.head["fingerprint"][0]) == 64, log.head),
        ("no mark stays behind", not os.path.exists(log_path + ".lock"), log_path),
    ]


def alike(name, command):
    """Lists are the same bytes in every shell."""
    folder = rig.scratch(name)
    results = []
    for option in ("--dry-run", "--list", "--help"):
        outputs = [subprocess.run([*shell, rig.script(*LONG), option], cwd=folder, env=rig.environment(folder),
                                  stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False).stdout
                   for shell in (["dash"], command)]
        results.append((f"{option} is as in dash", outputs[0] == outputs[1] and outputs[0], outputs[1].decode("utf-8")))
    return results


def check_examples():
    """Every process of the examples, in one shell: the plan in its log is the cue list's."""
    import read_back
    for path, process in read_back.example_processes():
        cues = json.loads(run("cues", "--to", "json", "--process", process, path).stdout)["cues"]
        done, log = injected(["dash"], rig.script(path, process), rig.scratch(process))
        if not check(done.returncode == 0, f"{process}: a whole run ends well", done.stdout.decode("utf-8", "replace")):
            continue
        log = rig.Log(log)
        planned = sorted((cue.step, cue.since, cue.kind) for cue in log.plan)
        listed = sorted((cue["step"], int(cue["since_start_s"] * 1000 + 500) // 1000, cue["kind"]) for cue in cues)
        check(planned == listed, f"{process}: the log's plan is the cue list", lambda: set(planned) ^ set(listed))
        late = [cue for cue, error in zip(log.cues(), log.errors()) if not -0.5 <= error < 1]
        check(not late, f"{process}: every cue comes within a second of its deadline", late)


def check_cut_off():
    """A script that was cut off, wherever, runs nothing."""
    with open(rig.script(rig.QUICK), encoding="utf-8") as file:
        text = file.read()
    folder = rig.scratch("cut")
    bad = []
    for part in range(1, 20):
        path = os.path.join(folder, "cut.sh")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text[:len(text) * part // 20])
        subprocess.run(["dash", path, "--log", os.path.join(folder, "run.log")], cwd=folder,
                       env=rig.environment(folder), stdin=subprocess.DEVNULL, check=False,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        bad += [part] if os.listdir(folder) != ["cut.sh"] else []
    check(not bad, "a script that was cut off runs nothing", bad)


def check_usage():
    """Wrong options are one line and status 2; nothing is written."""
    folder = rig.scratch("usage")
    for options in (["--nothing"], ["--from"], ["--from", "nothing"], ["--from", "99"], ["--rehearse", "0"],
                    ["--rehearse", "61"], ["--rehearse", "08x"], ["--clock-file", "nothing"],
                    ["--log", "no/such/folder"],
                    ["--log=/dev/null"], ["--log=."]):
        done = subprocess.run(["dash", rig.script(rig.QUICK), *options], cwd=folder, env=rig.environment(folder),
                              stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
        check(done.returncode == 2 and done.stderr.count(b"\n") == 1 and not done.stdout,
              f"{' '.join(options)} is refused", done)
    check(not os.listdir(folder), "a refusal writes nothing", os.listdir(folder))
    done, log = injected(["dash"], rig.script(rig.QUICK), folder, "--rehearse=08")
    check(done.returncode == 0 and rig.Log(log).head["clock"][2] == "8", "08 is eight", done.stdout)


def check_plain_locale():
    """In the C locale the script's own words are ASCII, in the shell that reads nothing else there too."""
    for name, command in rig.shells().items():
        done, _ = injected(command, rig.script(*LONG), rig.scratch(name), locale="C")
        check(done.returncode == 0 and done.stdout.isascii(), f"{name}: ASCII in the C locale", done.stdout[-500:])


rig.sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cues"))
rig.script(*LONG)
rig.in_every_shell(whole, 2)
rig.in_every_shell(alike, 2)
check_examples()
check_cut_off()
check_usage()
check_plain_locale()
rig.leave()
