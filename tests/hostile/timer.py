#!/usr/bin/env python3
# builds: plain
# lasts: 45
# timeout: 600
"""Texts from a recipe do nothing in the timer, whatever they hold: one script has them all, in every place that it shows. Each shell
prints them as they are. Under strace a whole run starts no program but the timer's own, writes, moves and removes no file but its
log, its mark and its clock, and opens no connection; that the trace would show such a thing is tried with scripts that do it."""

import os
import re
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "timer"))

import matrix  # noqa: E402
import rig  # noqa: E402
import slots  # noqa: E402
import strings  # noqa: E402
from harness import check, run, skip  # noqa: E402

PROGRAMS = {"date", "sleep", "tail", "dd", "stty", "mkdir", "mv", "rm", "ps", "awk", "printf"}
# The longest are in the matrix.
PRINTED = {name: text for name, text in strings.STRINGS.items() if name not in strings.LONG}
PAINTING = ("dash", "bash", "busybox", "mksh")  # the others take long for a screen of so much text
CALLS = {
    "start": ["execve", "execveat"],
    "write": ["open", "openat", "openat2", "creat"],
    "change": ["unlink", "unlinkat", "rename", "renameat", "renameat2", "mkdir", "mkdirat", "rmdir", "link", "linkat", "symlink",
               "symlinkat", "truncate", "chmod", "fchmodat", "chown", "fchownat", "mknod", "mknodat"],
    "connect": ["connect", "bind", "sendto"],
}


def together():
    """The path of a timer with every text in a note of its first step."""
    more = "; ".join(f"note {strings.quoted(text)}" for text in PRINTED.values())
    path = slots.write(os.path.join(rig.FOLDER, "recipe"), *matrix.row_of(20))
    with open(path, encoding="utf-8", newline="") as file:
        recipe = file.read()
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(recipe.replace("    measure; time {", f"    {more}\n    measure; time {{", 1))
    script = os.path.join(rig.FOLDER, "together.sh")
    done = run("timer", "--load", "1", "-o", script, path)
    if not check(done.returncode == 0, "a recipe of all texts compiles", done.stderr.decode("utf-8", "replace")[-500:]):
        rig.leave()
    return script


def injected(command, path, folder):
    """A whole run on a clock in a file; its output as bytes."""
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    return subprocess.run([*command, path, "--clock-file", "clock", "--log", "run.log"], cwd=folder, check=False,
                          env=rig.environment(folder), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, timeout=120)


def harmless(data):
    """Whether an output holds no control but line ends, nothing invisible and no direction changer."""
    return not strings.HIDDEN.search(data.decode("utf-8").replace("\n", ""))


def listed(name, command):
    """The script of all texts together in one shell: a list of its steps, and on a terminal high enough all the notes of the
    first one."""
    folder = rig.scratch(name)
    script = os.path.join(rig.FOLDER, "together.sh")
    done = subprocess.run([*command, script, "--list"], cwd=folder, check=False, env=rig.environment(folder),
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=120)
    results = [("--list is harmless", done.returncode == 0 and harmless(done.stdout), done.stdout[-300:])]
    if name not in PAINTING:
        return results
    terminal = rig.begun([*command, script, "--no-bottle-check", "--no-measuring", "--log", "run.log"], folder, 600, 250, 60)
    terminal.send("\x03")
    came = terminal.expect("What now?", 60)
    terminal.pump(0.3)
    terminal.send("q")
    status = terminal.wait(60)
    terminal.close()
    results.append(("a painted run comes to its menu and is stopped", came and status == 130, (came, status)))
    rest = re.sub("\x1b\\[(?:\\?25[hl]|\\?7[hl]|H|2J|J|K|1m|7m|0m)|\a|\r", "", terminal.text)
    said = matrix.shown(rest)
    lost = [text for text, value in PRINTED.items() if not any(way in said for way in matrix.ways_of(value, "sh", False))]
    return results + [("every text is printed as it is, and nothing else", not lost and harmless(rest.encode("utf-8")), lost)]


def ran(name, done, folder):
    """What is said of a whole run."""
    with open(os.path.join(folder, "run.log"), "rb") as file:
        log = file.read()
    fields = {line.count(b"\t") for line in log.split(b"\n") if line.startswith((b"cue", b"event"))}
    return [("a run ends well and is harmless", done.returncode == 0 and harmless(done.stdout), (done.returncode, done.stdout[-300:])),
            ("nothing comes into being but clock and log", sorted(os.listdir(folder)) == ["clock", "run.log"], os.listdir(folder)),
            ("the log's lines stay whole", harmless(log.replace(b"\t", b"")) and fields == {8}, fields)]


def untraced(name, command):
    """A whole run where nobody may watch it."""
    folder = rig.scratch(name)
    return ran(name, injected(command, os.path.join(rig.FOLDER, "together.sh"), folder), folder)


# ---- the trace ----

def is_of_shell(shell, path):
    """Where ksh93 keeps what a command substitution says."""
    return shell == "ksh93" and re.match("/(?:dev/shm|tmp)/sf", path)


def strange(trace, shell):
    """What a trace shows that no timer does: programs, files, connections, and whether it shows anything at all."""
    with open(trace, encoding="utf-8", errors="replace") as file:
        lines = file.read().splitlines()
    found, seen = [], 0
    for line in lines:
        call = re.match(r"(?:\d+ +)?(?:<\.\.\. )?(\w+)", line)
        call = call and call.group(1)
        paths = re.findall(r'"((?:[^"\\]|\\.)*)"', line)
        path = paths[0] if paths else ""
        name = os.path.basename(path)
        seen += call in CALLS["start"]
        if call in CALLS["start"] and not re.search(r"= -1 E(?:NOENT|ACCES)", line):
            if name not in PROGRAMS | {shell}:
                found.append("started " + path)
        is_written = call == "creat" or call in CALLS["write"] and re.search("O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND", line)
        if is_written and name not in ("run.log", "run.log.lock", "clock", "null", "tty") and not is_of_shell(shell, path):
            found.append(f"{call} {path}")
        if call in CALLS["change"]:
            found += [f"{call} {each}" for each in paths
                      if not re.fullmatch(r"(?:.*/)?(?:run\.log\.lock|clock)[\w.]*", each) and not is_of_shell(shell, each)]
        if call in CALLS["connect"] and "AF_NETLINK" not in line and "nscd" not in line:
            found.append(line)
    return found, seen


def trace_of(command, path, folder):
    """Runs a script under strace; the trace's path, the run's status and output."""
    trace = os.path.join(rig.FOLDER, os.path.basename(folder) + ".trace")
    calls = ",".join("?" + call for group in CALLS.values() for call in group)
    done = injected(["strace", "-f", "--seccomp-bpf", "-qq", "-s", "300", "-e", "trace=" + calls, "-o", trace, *command], path, folder)
    return trace, done


def traced(name, command):
    """The script of all texts together, traced."""
    folder = rig.scratch(name)
    trace, done = trace_of(command, os.path.join(rig.FOLDER, "together.sh"), folder)
    found, seen = strange(trace, os.path.basename(command[0]))
    with open(trace, encoding="utf-8", errors="replace") as file:
        wrote = "run.log" in file.read()
    return ran(name, done, folder) + [
            ("traced: starts its own programs alone, touches its own files alone, connects to nothing", not found, found[:10]),
            ("traced: the trace shows programs and the log", seen > 3 and wrote, seen)]


# What no timer does, and what the trace has to say of it.
PLANTED = {
    "a program": ("touch planted", "started"),
    "a program by its path": ("/bin/true", "started"),
    "a program behind a substitution": (": \"$(id)\"", "started"),
    "a file written": (": >planted", "planted"),
    "a file added to": ("echo x >>planted", "planted"),
    "a file removed": (": >planted; rm planted", "unlink"),
    "a file moved": ("mv clock planted", "planted"),
    "a folder": ("mkdir planted", "mkdir"),
    "a link": ("ln -s clock planted", "link"),
    "its log removed": (": >run.log; rm run.log", "unlink"),
    "in the background": ("(: >planted) & wait", "planted"),
}


def check_planted():
    """The trace and its reader see what a script does that the timer must not."""
    for name, (act, said) in PLANTED.items():
        folder = rig.scratch("planted")
        path = os.path.join(rig.FOLDER, "planted.sh")
        with open(path, "w", encoding="ascii") as file:
            file.write(f"date >/dev/null\n{act}\n")
        trace, _ = trace_of(["dash"], path, folder)
        found, _ = strange(trace, "dash")
        check(any(said in each for each in found), f"planted: {name} is seen", found)
    if shutil.which("bash"):
        path = os.path.join(rig.FOLDER, "planted.sh")
        with open(path, "w", encoding="ascii") as file:
            file.write("exec 3<>/dev/tcp/127.0.0.1/9\n")
        trace, _ = trace_of(["bash"], path, rig.scratch("planted"))
        check(any("connect" in each for each in strange(trace, "bash")[0]), "planted: a connection is seen", "")


def can_trace():
    """Whether strace may be used here; where not, that is said, and counts as a test that was not run."""
    if not shutil.which("strace"):
        skip("traced", "there is no strace: nobody watches what the timers start and write")
        return False
    done = subprocess.run(["strace", "-f", "-o", "/dev/null", "true"], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    if done.returncode != 0:
        skip("traced", "PTRACE IS NOT PERMITTED HERE, nobody watches what the timers start and write: "
             + done.stdout.decode("utf-8", "replace").strip().replace("\n", " "))
        return False
    return True


def painted(name, path):
    """On a painted screen only the timer's own sequences reach the terminal."""
    folder = rig.scratch("painted")
    terminal = rig.begun(["dash", path, "--no-bottle-check", "--no-measuring", "--log", "run.log"], folder, 30)
    missed = []
    for keys, shown in (("\r", "now: agitate"), ("\x03", "What now?")):
        terminal.send(keys)
        missed += [] if terminal.expect(shown, 30) else [shown]
        terminal.pump(0.3)
    terminal.send("q")
    status = terminal.wait()
    check(not missed, f"{name}: comes to its menu", missed)
    rest = re.sub(r"\x1b\[(?:\?25[hl]|\?7[hl]|H|2J|J|K|1m|7m|0m)|\a|\r\n", "", terminal.text)
    check(status == 130 and not re.search("[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", rest),
          f"{name}: only the timer's own sequences", (status, repr(rest[-300:])))
    check(sorted(os.listdir(folder)) == ["run.log"], f"{name}: painting writes nothing", os.listdir(folder))
    terminal.close()


def lint(paths):
    """What the program makes is as clean as what it is made from."""
    if not shutil.which("shellcheck"):
        skip("shellcheck", "there is no shellcheck")
        return
    for name, path in paths:
        how = ["-e", "SC1003"] if name == "together" else []  # a text that ends in a backslash
        done = subprocess.run(["shellcheck", "-s", "sh", "-o", "all", *how, path], stdout=subprocess.PIPE, check=False)
        check(done.returncode == 0, f"{name}: shellcheck finds nothing", done.stdout.decode("utf-8", "replace")[:2000])
    for name, command in rig.shells().items():
        bad = [path for _, path in paths
               if subprocess.run([*command, "-n", path], stderr=subprocess.DEVNULL, check=False,
                                 env=rig.environment(rig.FOLDER)).returncode]
        check(not bad, f"{name}: every script parses", bad)


def check_bell():
    """WETSIDE_BELL runs as the user gave it, with the kind of cue, and not where nothing rings."""
    folder = rig.scratch("bell")
    bell = 'printf "%s\\n" "$1" >>"$BELL_FILE"'
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    subprocess.run(["dash", rig.script(rig.QUICK), "--clock-file", "clock", "--log", "run.log", "--from", "wash"],
                   cwd=folder,
                   env=dict(rig.environment(folder), WETSIDE_BELL=bell, BELL_FILE=os.path.join(folder, "rung")),
                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=False)
    rung = os.path.join(folder, "rung")
    rig.wait_for(lambda: os.path.exists(rung) and open(rung, encoding="ascii").read().count("\n") == 3, 5)
    with open(rung, encoding="ascii") as file:
        check(sorted(file.read().split()) == ["drain", "end", "pour"], "WETSIDE_BELL runs at each cue that rings", "")


def main():
    script = together()
    rig.in_every_shell(listed, 2)
    is_watched = can_trace()
    if is_watched:
        check_planted()
    rig.in_every_shell(traced if is_watched else untraced, 2)
    painted("together", script)
    check_bell()
    sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cues"))
    import read_back  # pylint: disable=import-outside-toplevel
    lint([("together", script)] + [(process, rig.script(path, process)) for path, process in read_back.example_processes()[:2]])


main()
rig.leave()
