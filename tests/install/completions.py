#!/usr/bin/env python3
# builds: plain
"""The completion scripts, read by real shells at a terminal of their own and asked with the tab key. What they ought to
offer comes from the tables."""

import os
import pathlib
import pty
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "structure"))

import harness
from definitions import rows

SCRIPTS = pathlib.Path(harness.ROOT, "src/commands/completions")
COMMANDS = {row[0].replace("_", "-") for row in rows("commands/commands.def", "COMMAND")}
OPTIONS = {row[1]: row[3] for row in rows("commands/options.def", "OPTION")}
FORMATS = {row[1] for row in rows("emit/emitters.def", "EMITTER") if row[0] == "forecast"}
CHECKS = {row[0].replace("_", "-") for row in rows("support/checks.def", "CHECK") if row[0].startswith("no_")}
PROCESSES = {"film-one", "film-two"}
RECIPE = """wetside 1
process film-one { develops
process film-two from film-one { }
"""


WAITS_S = 60  # for a shell on a busy machine


class Terminal:
    """A shell at a terminal of its own."""

    def __init__(self, words, environment, folder):
        self.settled = 0
        self.process, self.descriptor = pty.fork()
        if self.process == 0:
            os.chdir(folder)
            os.execvpe(words[0], words, environment)

    def read(self, quiet):
        """What comes until nothing more has come for so many seconds."""
        out = b""
        while select.select([self.descriptor], [], [], quiet)[0]:
            try:
                out += os.read(self.descriptor, 65536)
            except OSError:
                break
        return re.sub(r"\x1b\[[0-9;?]*[A-Za-z]|\x1b[=>]|\r|\x07", "", out.decode("utf-8", "replace"))

    def send(self, text):
        os.write(self.descriptor, text.encode())

    def settle(self):
        """The shell has done what it was told before. What is typed may be dropped with the line before it: it is typed again."""
        self.settled += 1
        out, until = "", time.monotonic() + WAITS_S
        while time.monotonic() < until and f"settled-{self.settled}." not in out:
            self.send(f" echo 'set''tled'-{self.settled}.\r")
            patience = time.monotonic() + 3
            while time.monotonic() < patience and f"settled-{self.settled}." not in out:
                out += self.read(0.1)

    def ask(self, line, wanted):
        """What is shown after a line and two tabs, once it has the wanted words."""
        self.settle()
        self.send(line + "\t\t")
        out, until = "", time.monotonic() + WAITS_S
        while time.monotonic() < until and not all(word in out for word in wanted):
            out += self.read(0.1)
        out += self.read(0.3)  # and what is offered besides
        self.send("\x15\x03")
        return out

    def close(self):
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        os.close(self.descriptor)


def judge_terminal(shell, words, start, environment, folder):
    if not shutil.which(shell):
        harness.skip(f"{shell} completes", f"no {shell}")
        return
    terminal = Terminal(words, environment, folder)
    terminal.send(start)
    taken = re.findall(r"--([a-z-]+)", harness.run("complete", "--", "forecast", "--").stdout.decode())
    for line, wanted in (("wetside ", COMMANDS), ("wetside forecast --to=", FORMATS), ("wetside forecast --to ", FORMATS),
                         ("wetside forecast --", {f"--{name}" for name in taken}), ("wetside explain no-", CHECKS),
                         ("wetside cues broken.wet --process=film-", PROCESSES), ("wetside check --color=a", {"auto"}),
                         ("wetside check ", {"broken.wet", "other.wet"}),
                         ("wetside cues -o n", {"notes.txt"}), ("wetside check -I sub", {"sub-folder"})):
        shown = terminal.ask(line, wanted)
        missing = [word for word in wanted if word not in shown]
        harness.check(not missing, f"{shell} completes `{line}`", f"missing: {missing}\n{shown}")
    shown = terminal.ask("wetside check ", {"other.wet"})
    harness.check("notes.txt" not in shown, f"{shell} offers recipes only where recipes are wanted", shown)
    terminal.close()


def judge_fish(environment, folder):
    if not shutil.which("fish"):
        harness.skip("fish completes", "no fish")
        return

    def ask(line):
        script = f"source {SCRIPTS / 'wetside.fish'}; complete -C '{line}'"
        told = subprocess.run(["fish", "--no-config", "-c", script], env=environment, cwd=folder, check=False,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT).stdout.decode()
        return {shown.split("\t")[0] for shown in told.splitlines()}

    units = {row[1] for row in rows("syntax/units.def", "UNIT") if row[1].startswith("U")}
    for line, wanted in (
            ("wetside ", COMMANDS), ("wetside forecast --to=", {f"--to={form}" for form in FORMATS}),
            ("wetside forecast --to ", FORMATS), ("wetside explain no-", CHECKS), ("wetside explain U", units),
            ("wetside cues broken.wet --process=", {f"--process={name}" for name in PROCESSES}),
            ("wetside check ", {"broken.wet", "other.wet", "sub-folder/"}), ("wetside cues -o no", {"notes.txt"}),
            ("wetside check -I ", {"sub-folder/"}), ("wetside check --color=a", {"--color=auto", "--color=always"})):
        shown = ask(line)
        harness.check(shown == wanted, f"fish completes `{line}`", f"differs by {sorted(shown ^ wanted)}")


def judge_options():
    """Each option of each command, as `complete` tells it, with an argument where the option takes one."""
    for command in sorted(COMMANDS):
        offered = re.findall(r"^--([a-z-]+)(=?)\t", harness.run("complete", "--", command, "--").stdout.decode(), re.M)
        wrong = [name for name, equals in offered if (equals == "=") != (OPTIONS[name] != "")]
        harness.check(offered and not wrong, f"`complete` knows which options of {command} take an argument", wrong)
    done = harness.run("complete", "--", "cues", "/no/such.wet", "--process=")
    harness.check((done.returncode, done.stdout, done.stderr) == (0, b"", b""), "a recipe that is not there is no matter")
    done = harness.run("complete")
    harness.check(done.returncode == 2 and b"--" in done.stderr, "`complete` without words says what it wants")


def main():
    judge_options()
    with tempfile.TemporaryDirectory() as folder:
        programs = pathlib.Path(folder, "bin")
        home = pathlib.Path(folder, "home")
        work = pathlib.Path(folder, "work")
        for place in (programs, home, work, work / "sub-folder"):
            place.mkdir()
        (programs / "wetside").symlink_to(os.path.abspath(harness.WETSIDE))
        (work / "broken.wet").write_text(RECIPE, encoding="utf-8")
        (work / "other.wet").write_text("wetside 1\n", encoding="utf-8")
        (work / "notes.txt").write_text("", encoding="utf-8")
        environment = dict(os.environ, PATH=f"{programs}:{os.environ['PATH']}", HOME=str(home), TERM="xterm",
                           COLUMNS="200", LINES="60", PS1="> ", INPUTRC="/dev/null", XDG_CONFIG_HOME=str(home))
        judge_terminal("bash", ["bash", "--norc", "--noprofile", "-i"],
                       f"source {SCRIPTS}/wetside.bash; bind 'set page-completions off'; bind 'set completion-query-items 0'\n",
                       environment, work)
        judge_terminal("zsh", ["zsh", "-f", "-i"],
                       f"fpath=({SCRIPTS} $fpath); autoload -U compinit; compinit -u -D; LISTMAX=0; unsetopt prompt_sp; "
                       "stty rows 60 cols 200\n", environment, work)
        judge_fish(environment, work)
    harness.end()


main()
