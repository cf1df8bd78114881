#!/usr/bin/env python3
# lasts: 15
"""`check -j N FILE...`: what is said, its order and the exit status are those of `check FILE...`, whatever N is; a child that
is killed is told of."""

import glob
import os
import signal
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402


def said(*arguments, stdin=b""):
    done = harness.run("check", *arguments, stdin=stdin, timeout=200)
    return done.returncode, done.stdout, done.stderr


def many_errors(path, count):
    """A file whose messages are longer than a pipe holds."""
    with open(path, "w", encoding="utf-8") as file:
        file.write("wetside 1\n")
        file.writelines(f'thermometer t-{number} "No. {number}" {{ reads 0.1 mL within 0.1 °C }}\n' for number in range(count))


def same_as_one_after_the_other(folder):
    loud = os.path.join(folder, "loud.wet")
    many_errors(loud, 1500)
    files = sorted(glob.glob(os.path.join(harness.ROOT, "tests", "checks", "*.wet")))[::8]
    files += sorted(glob.glob(os.path.join(harness.ROOT, "examples", "*.wet")))
    files[3:3] = [loud, os.path.join(folder, "missing.wet"), folder]
    files.append(loud)
    for options in ([], ["--diagnostics=json"], ["--diagnostics=sarif"], ["--color=always", "--max-errors=0"], ["--deny-warnings"]):
        wanted = said(*options, *files)
        for jobs in (1, 2, 7):
            found = said(*options, f"-j{jobs}", *files)
            harness.check(found == wanted, f"check -j{jobs} {' '.join(options)}", lambda: f"{wanted[0]} and {found[0]}")
    harness.check(said(*files)[0] == 2, "a file that cannot be read gives 2")
    good = [os.path.join(harness.ROOT, "examples", name) for name in ("room.wet", "baths.wet", "ecn-2.wet")]
    harness.check(said("-j3", *good) == (0, b"", b""), "good files give 0")
    harness.check(said("-j3", *good, loud)[0] == 1, "one with an error gives 1")
    text = harness.read("examples/room.wet").encode()
    for jobs in (1, 2):
        harness.check(said(f"-j{jobs}", good[0], "-", good[1], stdin=text + b"oops\n")[0] == 1, f"standard input with -j{jobs}")
        harness.check(said(f"-j{jobs}", "-", "-", stdin=text)[0] == 1, f"standard input is read once with -j{jobs}")


def children(pid):
    with open(f"/proc/{pid}/task/{pid}/children", encoding="ascii") as file:
        return [int(word) for word in file.read().split()]


def killed(folder):
    slow, quick = os.path.join(folder, "slow.wet"), os.path.join(folder, "quick.wet")
    many_errors(slow, 40_000)
    many_errors(quick, 1)
    with subprocess.Popen([harness.WETSIDE, "check", "-j2", slow, quick, quick], stderr=subprocess.PIPE) as process:
        deadline = time.monotonic() + 20
        victims = []
        while not victims and time.monotonic() < deadline and process.poll() is None:
            victims = children(process.pid)
        if victims:
            os.kill(min(victims), signal.SIGKILL)
        stderr = process.stderr.read().decode()
        status = process.wait()
    harness.check(status == 2 and f"the work on `{slow}` was ended by signal 9 (Killed)" in stderr,
                  "a child that is killed is told of", stderr[-2000:])
    harness.check(stderr.count(f"{quick}:2:") == 2, "and the others go on", stderr[-2000:])


def nobody_reads(folder):
    loud = os.path.join(folder, "loud.wet")
    with open("/dev/full", "wb") as full:
        done = subprocess.run([harness.WETSIDE, "check", "-j2", "--diagnostics=json", loud, loud, loud], stdout=full,
                              stderr=subprocess.PIPE, check=False, timeout=60)
    harness.check(done.returncode == 2 and done.stderr.count(b"cannot write to standard output") == 1, "standard output is full", done)


def main():
    with tempfile.TemporaryDirectory() as folder:
        same_as_one_after_the_other(folder)
        killed(folder)
        nobody_reads(folder)
    harness.end()


main()
