"""Measures packing against the number of rolls: seconds of work and memory for one kind of a day, with what is proven of
the result. The driver of tests/plan/packing.py packs; the rolls are invented."""

import os
import random
import resource
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "compute", "driver_packing")
SIZES = ((80, 20), (200, 40), (500, 80), (1000, 150), (2000, 300))


def problem(rolls, parties):
    """Three formats of which a tank takes 8, 4 or 3; origins of several sizes."""
    random_one = random.Random(rolls)
    sizes = [random_one.randint(1, 5) for _ in range(parties)]
    lines = [f"3 8 4 3 -1 -1 -1 0 0 0 1 0 {parties} " + " ".join("0" * parties), str(rolls)]
    for _ in range(rolls):
        kind = random_one.choices(range(3), (4, 1, 1))[0]
        lines.append(f"{kind} {random_one.choices(range(parties), sizes)[0]} 1000 0")
    return "\n".join(lines) + "\n"


def measure():
    """Prints a line for each size."""
    print("rolls  parties  seconds  MB    loads (least)  splits (least)")
    for rolls, parties in SIZES:
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        done = subprocess.run([DRIVER, "memory"], input=problem(rolls, parties).encode(), stdout=subprocess.PIPE,
                              check=True)
        seconds = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before
        memory, figures = done.stdout.decode().splitlines()[:2]
        loads, _, splits, loads_least, _, splits_least = figures.split()[:6]
        print(f"{rolls:5} {parties:8} {seconds:8.2f} {int(memory.split()[0]) / 1e6:5.1f} {loads:>8} {loads_least:>7} "
              f"{splits:>8} {splits_least:>7}", flush=True)
