#!/usr/bin/env python3
"""A signal while a product is written: the program dies of it, as whoever sent it wants to see; the old file stands, and
the temporary one is gone. SIGKILL leaves no time to clean up, but the old file stands. What was to be ignored from the start,
as under nohup, is ignored. A file that may grow no larger (ulimit -f) is an error of the write."""

import os
import resource
import signal
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import ONE, write  # noqa: E402
from harness import WETSIDE, check, end  # noqa: E402

LONG = ONE.replace("for at least 0:30", "for at least 3:00:00")  # 480 MB of sound
ENDING = [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT, signal.SIGXCPU]
WAITS_S = 60


def temporary_files(folder):
    return [name for name in os.listdir(folder) if name.startswith(".wetside-")]


def wait_until(condition):
    """True as soon as a condition holds, False where it does not within a minute."""
    deadline = time.monotonic() + WAITS_S
    while not condition():
        if time.monotonic() > deadline:
            return False
        time.sleep(0.002)
    return True


def has_begun(folder):
    """Whether a product is being written: its temporary file holds something."""
    try:
        return any(os.stat(os.path.join(folder, name)).st_size > 100000 for name in temporary_files(folder))
    except FileNotFoundError:
        return False


def start(folder, *words, ignored=()):
    def prepare():
        for number in ENDING:
            signal.signal(number, signal.SIG_IGN if number in ignored else signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    return subprocess.Popen([WETSIDE, *words], cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                            stderr=subprocess.PIPE, preexec_fn=prepare)


def is_old(folder, name="out"):
    with open(os.path.join(folder, name), "rb") as file:
        return file.read() == b"old\n"


def interrupted(folder, number, times, *words):
    """What is wrong where a signal comes so many times while a product is written, or nothing."""
    write(folder, "out", "old\n")
    process = start(folder, "cues", "--to=wav", *words, "long.wet")
    begun = wait_until(lambda: has_begun(folder) or process.poll() is not None)
    for _ in range(times):
        process.send_signal(number)
    errors = process.communicate(timeout=WAITS_S)[1]
    left = temporary_files(folder)
    for name in left:
        os.unlink(os.path.join(folder, name))
    is_well = begun and process.returncode == -number and is_old(folder) and not left and not errors
    return None if is_well else (begun, process.returncode, left, errors)


def judge_hurried(folder):
    """By a hurried hand twice: the second comes before, while or after the first is answered, so it is tried often."""
    wrong = [found for found in (interrupted(folder, signal.SIGINT, 2, "-o", "link", "-MD") for _ in range(100)) if found]
    check(not wrong, "100 times SIGINT twice while a product and its dependency file are written", wrong)


def judge_kill(folder):
    write(folder, "out", "old\n")
    process = start(folder, "cues", "--to=wav", "-o", "out", "long.wet")
    begun = wait_until(lambda: has_begun(folder) or process.poll() is not None)
    process.kill()
    process.communicate()
    check(begun and process.returncode == -signal.SIGKILL and is_old(folder), "SIGKILL: the old file stands")
    for name in temporary_files(folder):
        os.unlink(os.path.join(folder, name))


def judge_ignored(folder):
    """nohup, or a job of a shell without job control."""
    for number in (signal.SIGHUP, signal.SIGINT):
        write(folder, "out", "old\n")
        process = start(folder, "cues", "--to=wav", "-o", "out", "one.wet", ignored=[number])
        for _ in range(20):
            process.send_signal(number)
            time.sleep(0.0005)
        process.communicate(timeout=WAITS_S)
        check(process.returncode == 0 and not is_old(folder) and not temporary_files(folder),
              f"{number.name} that was ignored stays so", process.returncode)


def judge_moments(folder):
    """At whatever moment a signal comes, the file is the old one or the new one, and nothing lies beside it."""
    new = subprocess.run([WETSIDE, "cues", "one.wet"], cwd=folder, stdout=subprocess.PIPE, check=True).stdout
    wrong, ends = [], {"old": 0, "new": 0}
    for turn in range(60):
        write(folder, "out", "old\n")
        process = start(folder, "cues", "one.wet", "-o", "out")
        time.sleep(turn * 0.0002)
        process.send_signal(signal.SIGTERM)
        process.communicate(timeout=WAITS_S)
        with open(os.path.join(folder, "out"), "rb") as file:
            found = file.read()
        ends["new" if found == new else "old"] += 1
        if found not in (new, b"old\n") or temporary_files(folder) or process.returncode not in (0, -signal.SIGTERM):
            wrong.append((turn, process.returncode, temporary_files(folder), found[:50]))
    check(not wrong, f"60 moments: {ends['old']} times the old file, {ends['new']} times the new one", wrong)


def judge_size(folder):
    """ulimit -f: a limit that by itself would end the program by a signal."""
    write(folder, "out", "old\n")
    done = subprocess.run([WETSIDE, "cues", "--to=wav", "-o", "out", "one.wet"], cwd=folder, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False,
                          preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (300000, 300000)))
    check(done.returncode == 2 and done.stderr == b"wetside: cannot write `out`: File too large\n" and is_old(folder) and
          not temporary_files(folder), "ulimit -f", (done.returncode, done.stderr))


def main():
    with tempfile.TemporaryDirectory() as folder:
        write(folder, "one.wet", ONE)
        write(folder, "long.wet", LONG)
        os.symlink("out", os.path.join(folder, "link"))
        for number in ENDING:
            wrong = interrupted(folder, number, 1, "-o", "out")
            check(not wrong, f"{number.name} while out is written", wrong)
        judge_hurried(folder)
        judge_kill(folder)
        judge_ignored(folder)
        judge_moments(folder)
        judge_size(folder)
    end()


if __name__ == "__main__":
    main()
