"""Runs commands in turns and says what each needed: the median of its processor time, and its largest peak of memory."""

import os
import resource
import statistics
import subprocess
import sys

ROUNDS = 7
LONG = 20  # seconds: what needs more is run once

# A child begins with the memory of its parent, and that counts for its peak: so the parent is a small one.
LAUNCHER = """
import os, sys
null = os.open(os.devnull, os.O_WRONLY)
child = os.posix_spawnp(sys.argv[1], sys.argv[1:], os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, null, 2)])
_, status, usage = os.wait4(child, 0)
print(usage.ru_utime + usage.ru_stime, usage.ru_maxrss, os.waitstatus_to_exitcode(status), file=sys.stderr)
"""


class Command:
    """A command to measure; `seconds` and `peak` (bytes) are there after `alternate`."""

    def __init__(self, *words, to=os.devnull, expected=(0,), environment=None):
        self.words, self.to, self.expected = words, to, expected
        self.environment = dict(os.environ, **(environment or {}))
        self.runs, self.peaks = [], []

    @property
    def seconds(self):
        return statistics.median(self.runs)

    @property
    def peak(self):
        return max(self.peaks)

    def run(self):
        """One run, its messages thrown away; a status that is not expected ends the bench."""
        with open(self.to, "wb") as file:
            done = subprocess.run([sys.executable, "-I", "-S", "-c", LAUNCHER, *self.words], stdin=subprocess.DEVNULL,
                                  stdout=file, stderr=subprocess.PIPE, env=self.environment, check=True)
        seconds, peak, status = done.stderr.split()
        if int(status) not in self.expected:
            sys.exit(f"bench: `{' '.join(self.words)}` ended with {int(status)}")
        self.runs.append(float(seconds))
        self.peaks.append(int(peak) * 1024)


def alternate(*commands, rounds=ROUNDS):
    """Runs the commands one after the other, and that several times, so that whatever else the machine does meets all."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    for _ in range(rounds):
        for command in commands:
            if not command.runs or command.seconds < LONG:
                command.run()


def instructions(*words):
    """How many instructions a command takes from its first to its last, the dynamic loader's with them."""
    done = subprocess.run(["valgrind", "--tool=cachegrind", "--cache-sim=no", "--cachegrind-out-file=/dev/null", *words],
                          stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL, check=True)
    return next(int(line.split(b":")[1].replace(b",", b"")) for line in done.stderr.splitlines() if b"I " in line and b"refs:" in line)
