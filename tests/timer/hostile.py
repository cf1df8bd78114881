#!/usr/bin/env python3
# builds: plain
"""Texts from a recipe do nothing in the timer, whatever they hold: each payload is the title and the note of
everything. Under strace the whole run starts no program but the timer's own and writes no file but its log, its mark
and its clock."""

import os
import re
import shutil
import subprocess
import sys

import rig
from harness import check, run, skip

RECIPE = """wetside 1
allow no-hazards-declared {0}
allow no-waste-route {0}
tank thimble {0} {{ holds 0.3 L; takes 1 x 135; fill 1 s; drain 2 s; note {0} }}
thermometer glass {0} {{ reads 0.1 °C; correction -0.2 °C; note {0} }}
dryer cabinet {0} {{ takes 16 rolls; for 2 h; note {0} }}
solution soup {0} {{ role developer; one-shot; note {0} }}
solution hypo {0} {{ role fix; reuse; note {0} }}
process hostile {0} {{
  develops black-and-white-negative
  tank thimble
  thermometer glass
  load 1 rolls
  note {0}
  step develop in soup at 20 ± 0.5 °C for 8:00 {{ agitate first 30 s, then 10 s every 2:00; note {0} }}
  step fix in hypo at 18 .. 24 °C for 5:00 .. 10:00 {{ agitate first 30 s; note {0}; note {0} }}
  step dry in cabinet for 2 h {{ note {0} }}
}}
"""
PAYLOADS = {
    "command substitution": "$(touch hit)",
    "backquotes": "`touch hit`",
    "quotes": "'; touch hit; '\"; touch hit; \"'\\''; touch hit; '",
    "quotes at the end": "'",
    "backslash at the end": "\\",
    "newlines": "one\ntouch hit\n\ntouch hit\n;;\nesac\n}\ntouch hit\n",
    "end of comment": "\n touch hit touch hit\u2028touch hit\u0085touch hit",
    "format": "%s%n%d%b\\a\\033[2J\\0101%",
    "variables": "${HOME} $IFS ${x:=$(touch hit)} $((1/0)) ~ ~root",
    "globs": "* /* [a-z]* ? .*",
    "options": "-n -e -rf --help",
    "redirections": "> hit >> hit | tee hit & < /dev/zero",
    "here document": "<<EOF\nEOF\n<<'END'",
    "controls": "\x01\x07\x08\x1b[2J\x1b]0;x\x07\x7f\t",
    "C1 controls": "\u009b31m\u0090q",
    "direction overrides": "\u202etxet\u202c \u2066a\u2069 \u200f\u061c\u200b\ufeff",
    "wide characters": "水洗い é ö" * 30,
    "very long": "many words " * 500,
    "degree": "~ ° ± − \u00a0",
}
PROGRAMS = {"date", "sleep", "tail", "dd", "stty", "mkdir", "mv", "rm", "ps", "awk", "printf"}


def quoted(text):
    """A string of the language."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def hostile_scripts():
    """A script for each payload and one for all together: name, path."""
    payloads = dict(PAYLOADS, together=" ".join(PAYLOADS.values()))
    for name, payload in payloads.items():
        recipe = os.path.join(rig.FOLDER, "hostile.wet")
        path = os.path.join(rig.FOLDER, name.replace(" ", "-") + ".sh")
        with open(recipe, "w", encoding="utf-8", newline="") as file:
            file.write(RECIPE.format(quoted(payload)))
        done = run("timer", "-o", path, recipe)
        if check(done.returncode == 0, f"{name}: compiles", done.stderr.decode("utf-8", "replace")):
            yield name, path


def injected(command, path, folder):
    """A whole run on a clock in a file; its output as bytes."""
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    return subprocess.run([*command, path, "--clock-file", "clock", "--log", "run.log"], cwd=folder, check=False,
                          env=rig.environment(folder), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, timeout=60)


def harmless(data):
    """Whether an output holds no control but line ends, nothing invisible and no direction changer."""
    text = data.decode("utf-8")
    return not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff]", text)


def check_output(name, path):
    """A list and a whole run, all lists where all payloads are; nothing but the run's own files comes into being."""
    folder = rig.scratch("hostile")
    for option in ("--list", "--dry-run", "--help") if name == "together" else ("--list",):
        done = subprocess.run(["dash", path, option], cwd=folder, env=rig.environment(folder), check=False,
                              stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        check(done.returncode == 0 and harmless(done.stdout), f"{name}: {option} is harmless", done.stdout[:500])
    done = injected(["dash"], path, folder)
    check(done.returncode == 0 and harmless(done.stdout), f"{name}: a run is harmless", done.stdout[-500:])
    check(sorted(os.listdir(folder)) == ["clock", "run.log"], f"{name}: nothing is written", os.listdir(folder))
    with open(os.path.join(folder, "run.log"), "rb") as file:
        log = file.read()
    check(harmless(log.replace(b"\t", b"")) and {line.count(b"\t") for line in log.split(b"\n")
          if line.startswith((b"cue", b"event"))} == {8}, f"{name}: the log's lines stay whole", "")


def traced(name, command):
    """The script of all payloads together, traced."""
    folder = rig.scratch(name)
    trace = os.path.join(folder, "trace")
    calls = "execve,openat,open,creat,unlink,unlinkat,rename,renameat,renameat2"
    done = injected(["strace", "-f", "--seccomp-bpf", "-qq", "-e", "trace=" + calls, "-o", trace, *command],
                    os.path.join(rig.FOLDER, "together.sh"), folder)
    with open(trace, encoding="utf-8", errors="replace") as file:
        lines = file.read().splitlines()
    run_programs = {os.path.basename(found.group(1)) for line in lines
                    for found in [re.search(r'execve\("([^"]*)".* = 0$', line)] if found}
    to_write = re.compile(r'open(?:at)?\((?:\w+, )?"([^"]*)", [^)]*(?:O_WRONLY|O_RDWR|O_CREAT)')
    written = {found.group(1) for found in map(to_write.search, lines) if found}
    changed = {found.group(1) for line in lines
               for found in [re.search(r'(?:unlink|rename)\w*\((?:\w+, )?"([^"]*)"', line)] if found}
    strangers = run_programs - PROGRAMS - {os.path.basename(command[0])}
    strange_files = {path for path in written | changed
                     if os.path.basename(path) not in ("run.log", "run.log.lock", "clock", "null", "tty")
                     # where ksh93 keeps what a command substitution says
                     and not (name == "ksh93" and re.match("/(?:dev/shm|tmp)/sf", path))}
    return [("traced: ends well", done.returncode == 0, done.stdout[-500:]),
            ("traced: runs no program but the timer's own", not strangers and run_programs, strangers),
            ("traced: writes no file but the timer's own", not strange_files and "run.log" in written, strange_files)]


def painted(name, path):
    """On a painted screen only the timer's own sequences reach the terminal."""
    folder = rig.scratch("painted")
    terminal = rig.Terminal(["dash", path, "--no-bottle-check", "--log", "run.log"], folder, 30, 80, TERM="xterm")
    terminal.expect("begin with step 1")
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("I begin to pour")
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("now: agitate")
    terminal.send("\x03")
    terminal.expect("What now?")
    terminal.pump(0.3)
    terminal.send("q")
    status = terminal.wait()
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
        done = subprocess.run(["shellcheck", "-s", "sh", "-o", "all", path], stdout=subprocess.PIPE, check=False)
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
    scripts = list(hostile_scripts())
    for name, path in scripts:
        check_output(name, path)
    if shutil.which("strace"):
        rig.in_every_shell(traced, 2)
    else:
        skip("traced", "there is no strace")
    painted(*scripts[-1])
    check_bell()
    sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cues"))
    import read_back
    lint(scripts[-1:] + [(process, rig.script(path, process)) for path, process in read_back.example_processes()[:2]])


main()
rig.leave()
