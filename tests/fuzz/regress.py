#!/usr/bin/env python3
"""What fuzzing once found is refused with a message that has a place, and without a crash."""

import glob
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402


def main():
    found = sorted(glob.glob(os.path.join(harness.ROOT, "tests", "fuzz", "found", "*.wet")))
    for path in found:
        done = harness.run("check", path)
        harness.check(done.returncode == 1 and b": error: " in done.stderr and b"wetside: error: " not in done.stderr,
                      os.path.basename(path), f"status {done.returncode}\n{done.stderr.decode('utf-8', 'replace')}")
    harness.check(found != [], "there is something to try")
    harness.end()


main()
