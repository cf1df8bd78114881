#!/usr/bin/env python3
"""What fuzzing has gathered goes through the fuzzers once more: tests/fuzz/corpus/, a folder for each of them."""

import glob
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

HERE = os.path.join(harness.ROOT, "tests", "fuzz")
DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "commands", "driver_replay")


def replay(name):
    files = sorted(glob.glob(os.path.join(HERE, "corpus", name, "*")))
    done = subprocess.run([DRIVER, name, *files], cwd=harness.ROOT, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                          stderr=subprocess.PIPE, check=False)
    said = done.stderr.decode("utf-8", "replace")
    harness.check(done.returncode == 0 and files != [] and all(path in said for path in files), f"{name}: {len(files)} files",
                  f"status {done.returncode}\n" + "\n".join(said.splitlines()[-20:]))
    return said


def main():
    for path in sorted(glob.glob(os.path.join(HERE, "fuzz_*.c"))):
        name = os.path.basename(path)[:-2]
        said = replay(name)
        if name == "fuzz_made":
            share = re.search(r"of which \d+ are well \((\d+\.\d) %\); never made:(.*)", said)
            harness.check(share and float(share[1]) > 85, "most recipes that are made are well", said[-300:])
            never = set(share[2].split()) if share else set()
            harness.check(all(product.startswith(("review.", "cues.wav")) for product in never),
                          "every product of a recipe is made", " ".join(never))
    harness.end()


main()
