#!/usr/bin/env python3
# builds: plain
"""The unified difference of two texts, on random ones: patch makes the new from the old with it, diff -u says the same of
its hunks, and no shorter way is known to arithmetic (the longest common subsequence)."""

import os
import random
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import get, harness, put  # noqa: E402

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "support", "driver_line_diff")
SEED = 20260314


def difference(folder, old, new):
    put(folder, "old", old)
    put(folder, "new", new)
    return subprocess.run([DRIVER, "old", "new"], cwd=folder, stdout=subprocess.PIPE, check=True).stdout


def common(old, new):
    """The length of the longest common subsequence."""
    row = [0] * (len(new) + 1)
    for line in old:
        corner = 0
        for index, other in enumerate(new):
            corner, row[index + 1] = row[index + 1], corner + 1 if line == other else max(row[index + 1], row[index])
    return row[-1]


def edits(text):
    return sum(1 for line in text.split(b"\n")[2:] if line[:1] in (b"+", b"-"))


def hunks(text):
    return re.findall(rb"^@@ .*@@", text, flags=re.M)


def pairs():
    chance = random.Random(SEED)
    for _ in range(250):
        old = [b"%d" % chance.randrange(chance.choice((3, 50))) for _ in range(chance.randrange(40))]
        new = list(old)
        for _ in range(chance.randrange(8)):
            at = chance.randrange(len(new) + 1)
            new[at:at + chance.randrange(3)] = [b"%d" % chance.randrange(60) for _ in range(chance.randrange(3))]
        ends = [chance.choice((b"\n", b"\n", b"")) for _ in range(2)]
        yield [b"\n".join(lines) + (end if lines else b"") for lines, end in zip((old, new), ends)]


def lines_of(text):
    return text.splitlines(keepends=True)


def main():
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        for old, new in pairs():
            text = difference(folder, old, new)
            put(folder, "patched", old)
            subprocess.run(["patch", "-s", "-f", "patched"], cwd=folder, input=text, check=False, stdout=subprocess.DEVNULL)
            patched = get(os.path.join(folder, "patched")) if os.path.exists(os.path.join(folder, "patched")) else b""
            least = len(lines_of(old)) + len(lines_of(new)) - 2 * common(lines_of(old), lines_of(new))
            if (old == new) != (text == b"") or patched != new or (text and edits(text) != least):
                wrong.append((old, new, text))
        harness.check(not wrong, "250 random pairs: patched, the old is the new, by the shortest way", wrong[:2])
        plain = "".join(f"line {number}\n" for number in range(100))
        for name, change in (("one line", lambda text: text.replace("line 50\n", "fifty\n")),
                             ("seven lines apart", lambda text: text.replace("line 50\n", "a\n").replace("line 57\n", "b\n")),
                             ("eight lines apart", lambda text: text.replace("line 50\n", "a\n").replace("line 58\n", "b\n")),
                             ("the first and the last", lambda text: "x\n" + text + "y\n")):
            text = difference(folder, plain, change(plain))
            wanted = subprocess.run(["diff", "-u", "--label", "old", "--label", "new", "old", "new"], cwd=folder, check=False,
                                    stdout=subprocess.PIPE).stdout
            harness.check(text == wanted, f"diff -u says the same of {name}", f"{hunks(text)} {hunks(wanted)}")
        long = "".join(f"{number}\n" for number in range(60000))
        text = difference(folder, long, "".join(f" {number}\n" for number in range(60000)))
        harness.check(edits(text) == 120000, "a text of which every line differs is replaced")
    harness.end()


if __name__ == "__main__":
    main()
