#!/usr/bin/env python3
"""What fuzzing once found. NAME.wet has a mistake: it is refused with a message that has a place, and without a crash.
NAME.COMMAND.wet or NAME.COMMAND-FORMAT.wet has none, and once had no end, or none that was good."""

import glob
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

MOST_BYTES = 500_000


def main():
    found = sorted(glob.glob(os.path.join(harness.ROOT, "tests", "fuzz", "found", "*.wet")))
    for path in found:
        _, _, command = os.path.basename(path)[:-4].partition(".")
        command, _, form = command.partition("-")
        done = harness.run(command or "check", path, *(["--to", form] if form else []))
        if command:
            well = done.returncode == 0 and len(done.stdout) < MOST_BYTES
        else:
            well = done.returncode == 1 and b": error: " in done.stderr and b"wetside: error: " not in done.stderr
        harness.check(well, os.path.basename(path), f"status {done.returncode}, {len(done.stdout)} bytes\n"
                      + done.stderr.decode("utf-8", "replace"))
    harness.check(found != [], "there is something to try")
    harness.end()


main()
