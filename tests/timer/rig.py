"""What the timer's tests share: the shells, scripts made from recipes, logs read back, a terminal. Not a test."""

import codecs
import collections
import concurrent.futures
import fcntl
import os
import pty
import re
import select
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import threading
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

# Debian names the one ksh93, others only ksh.
SHELLS = {
    "dash": ["dash"],
    "bash": ["bash", "--posix"],
    "busybox": ["busybox", "sh"],
    "mksh": ["mksh"],
    "yash": ["yash"],
    "ksh93": ["ksh93"],
    "posh": ["posh"],
    "zsh": ["zsh", "--emulate", "sh"],
}
QUICK = "tests/timer/quick.wet"
SECONDS = re.compile(r"^-?\d+(\.\d\d)?$")
FORKING = threading.Lock()
FOLDER = tempfile.mkdtemp(prefix="wetside timer $(hit) ")  # a name to be quoted

Event = collections.namedtuple("Event", "type stamp epoch clock step word planned actual remark")
Planned = collections.namedtuple("Planned", "step since kind until count")


def shells():
    """The shells to be found here; the others are told as skipped."""
    found = {}
    for name, command in SHELLS.items():
        if shutil.which(command[0]):
            found[name] = command
        else:
            harness.skip(name, f"there is no {command[0]}")
    return found


def in_every_shell(test, workers=8):
    """Runs test(name, command) for every shell, several at a time, and reports what it returns: (name, passed, why)."""
    with concurrent.futures.ThreadPoolExecutor(workers) as pool:
        jobs = [(name, pool.submit(test, name, command)) for name, command in shells().items()]
        for name, job in jobs:
            for what, passed, why in job.result():
                harness.check(passed, f"{name}: {what}", why)


def together(*tests):
    """Runs tests at the same time."""
    with concurrent.futures.ThreadPoolExecutor(len(tests)) as pool:
        for job in [pool.submit(test) for test in tests]:
            job.result()


def script(recipe, process=None):
    """The path of the timer of a recipe."""
    name = os.path.basename(recipe).removesuffix(".wet") + ("-" + process if process else "")
    path = os.path.join(FOLDER, name + ".sh")
    if not os.path.exists(path):
        done = harness.run("timer", *(["--process", process] if process else []), "-o", path, recipe)
        if done.returncode != 0:
            harness.not_ok(f"timer of {recipe}", done.stderr.decode("utf-8", "replace"))
            leave()
    return path


def scratch(name):
    """A new empty folder."""
    return tempfile.mkdtemp(prefix=name + "-", dir=FOLDER)


def leave():
    """Cleans up and ends the script with the status that agrees with its results."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    harness.end()


def environment(folder, **more):
    """An environment without anything of the caller's that the timer looks at."""
    plain = {key: value for key, value in os.environ.items()
             if key not in ("WETSIDE_BELL", "COLUMNS", "LINES", "LC_CTYPE", "LANG")}
    plain.update(LC_ALL="C.UTF-8", HOME=folder, XDG_STATE_HOME=os.path.join(folder, "state"), TERM="dumb")
    return dict(plain, **more)


class Log:
    """A timer's log, read back."""

    def __init__(self, path):
        with open(path, encoding="utf-8", errors="surrogateescape") as file:
            self.lines = file.read().split("\n")
        self.torn = self.lines.pop()
        self.head, self.plan, self.events = {}, [], []
        for line in self.lines:
            fields = line.split("\t")
            if fields[0] == "plan-cue":
                self.plan.append(Planned(int(fields[1]), int(fields[2]), fields[3], int(fields[4]), int(fields[5])))
            elif fields[0] in ("cue", "event"):
                if len(fields) == len(Event._fields):  # else a line that was cut off
                    self.events.append(Event(*fields))
            elif fields[0] not in ("plan-step", "columns"):
                self.head[fields[0]] = fields[1:]

    def cues(self, step=None):
        """The cue lines, of one step or of all."""
        return [event for event in self.events if event.type == "cue" and step in (None, int(event.step))]

    def words(self):
        """The words of the events that are no cues, in order."""
        return [event.word for event in self.events if event.type == "event"]

    def errors(self, speed=1):
        """Seconds that each cue came after its planned time, by the clock noted beside it and the step's beginning, not
        by what the timer says of itself."""
        begun, errors = {}, []
        for event in self.events:
            if event.word == "begun":
                begun[event.step] = (float(event.clock), float(event.actual))
            elif event.type == "cue":
                clock, since = begun[event.step]
                errors.append((float(event.clock) - clock) * speed + since - float(event.planned))
        return errors

    def false(self):
        """Cues whose noted actual time is not the time by the clock noted beside it."""
        return [cue for cue, error in zip(self.cues(), self.errors())
                if abs(float(cue.actual) - float(cue.planned) - error) > 0.03]

    def wrong_stamps(self):
        """Stamps that are no ISO 8601 or do not agree with the seconds since 1970 beside them."""
        wrong = []
        for event in self.events:
            try:
                stamp = time.strptime(event.stamp, "%Y-%m-%dT%H:%M:%SZ")
            except ValueError:
                wrong.append(event)
                continue
            if abs(time.mktime(stamp) - time.timezone - int(event.epoch)) > 1:
                wrong.append(event)
        return wrong


def expected(plan):
    """The cues of a run that drains at each earliest end: all but the latest ends, in order."""
    return [(cue.step, cue.kind, cue.since) for cue in plan if cue.kind != "latest-end"]


def came(log):
    """The cues of a log in the same shape."""
    return [(int(cue.step), cue.word, int(cue.planned)) for cue in log.cues() if not cue.remark.startswith("longer")]


class Terminal:
    """A program on a pseudo-terminal of its own; what it writes is gathered with the time it came."""

    def __init__(self, command, folder, rows=24, columns=80, **more):
        self.text, self.bells = "", []
        self.decoder = codecs.getincrementaldecoder("utf-8")("replace")  # a read may end within a character
        self.started = time.monotonic()
        ready, go = os.pipe()
        with FORKING:  # no other program may inherit the other end, or a hang-up would be none
            self.pid, self.master = pty.fork()
            if self.pid:
                os.set_inheritable(self.master, False)
        if self.pid == 0:
            try:
                os.read(ready, 1)
                os.chdir(folder)
                fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
                os.execvpe(command[0], command, environment(folder, **more))
            finally:
                os._exit(127)
        self.before = termios.tcgetattr(self.master)  # the program has not begun to change them
        os.write(go, b"\n")
        os.close(ready)
        os.close(go)

    def pump(self, seconds):
        """Reads what comes within so many seconds; returns False at the end of the output."""
        until = time.monotonic() + seconds
        while True:
            left = until - time.monotonic()
            if left <= 0:
                return True
            ready, _, _ = select.select([self.master], [], [], left)
            if not ready:
                return True
            try:
                data = os.read(self.master, 65536)
            except OSError:
                data = b""
            if not data:
                return False
            self.bells += [time.monotonic()] * data.count(b"\a")
            self.text += self.decoder.decode(data)

    def expect(self, text, seconds=15, after=None):
        """Waits for a text behind `after` (else behind all that was expected before); returns whether it came."""
        place = getattr(self, "place", 0) if after is None else after
        until = time.monotonic() + seconds
        while True:
            found = self.text.find(text, place)
            if found >= 0:
                self.place = found + len(text)
                return True
            if time.monotonic() > until:
                return False
            if not self.pump(0.05) and self.text.find(text, place) < 0:
                return False

    def send(self, keys):
        """Types."""
        os.write(self.master, keys.encode() if isinstance(keys, str) else keys)

    def settings(self):
        """The terminal's settings now."""
        return termios.tcgetattr(self.master)

    def wait(self, seconds=15):
        """The exit status; None where it had to be killed, as a negative number where a signal ended it."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            self.pump(0.05)
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                self.pump(0.05)
                return os.waitstatus_to_exitcode(status)
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        return None

    def close(self):
        """Hangs up."""
        os.close(self.master)


def begun(command, folder, rows=24, columns=80, seconds=15):
    """A timer painted on a terminal, its first step begun: it asks for the pour. A key may follow at once."""
    terminal = Terminal(command, folder, rows, columns, TERM="xterm")
    terminal.expect("begin with step 1", seconds)
    terminal.pump(0.3)
    terminal.send("\r")
    terminal.expect("I begin to pour", seconds)
    terminal.pump(0.3)
    return terminal


def start(command, folder, **more):
    """A timer without a terminal, in a session of its own; its output comes through a pipe."""
    return subprocess.Popen(command, cwd=folder, env=environment(folder, **more), stdin=subprocess.DEVNULL,
                            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, start_new_session=True, text=True,
                            encoding="utf-8", errors="replace")


def finish(process, seconds):
    """The output and exit status of a started timer; kills its session where it does not end."""
    try:
        output, _ = process.communicate(timeout=seconds)
        return output, process.returncode
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        output, _ = process.communicate()
        return output, None


def wait_for(condition, seconds=10):
    """Waits until a condition holds; returns whether it does."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if condition():
            return True
        time.sleep(0.02)
    return bool(condition())


def logged(path, word, step=None):
    """Whether a log holds an event or cue of this word."""
    if not os.path.exists(path):
        return False
    return any(event.word == word and step in (None, int(event.step)) for event in Log(path).events)


def is_asleep(process):
    """Whether a timer sleeps: by the program, or, in a shell that has one of its own, doing nothing for a while."""
    def state():
        with open(f"/proc/{process.pid}/stat", encoding="utf-8", errors="replace") as file:
            fields = file.read().rsplit(")", 1)[1].split()
        return fields[0], fields[11], fields[12]  # its letter, and the times that it has run
    processes, before = session_processes(process.pid), state()
    if "sleep" in processes:
        return True
    time.sleep(0.3)
    return len(processes) == 1 and before[0] == "S" and state() == before


def session_processes(session):
    """The command names of the processes of a session that still live."""
    found = []
    for pid in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open(f"/proc/{pid}/stat", encoding="utf-8", errors="replace") as file:
                name, fields = file.read().rsplit(")", 1)
        except OSError:
            continue
        fields = fields.split()
        if int(fields[3]) == session and fields[0] != "Z":
            found.append(name.split("(", 1)[1])
    return found
