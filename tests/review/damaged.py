#!/usr/bin/env python3
"""Logs that were cut off at any byte, or damaged, are read as far as they go, and the review says so."""

import json
import os
import random
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

FOLDER = tempfile.mkdtemp(prefix="damaged")


def whole_log():
    script, clock, log = (os.path.join(FOLDER, name) for name in ("timer.sh", "clock", "whole.log"))
    harness.run("timer", "--process", "black-and-white", "-o", script, "examples/black-and-white.wet")
    with open(clock, "w", encoding="ascii") as file:
        file.write("100.00\n")
    subprocess.run(["sh", script, "--clock-file", clock, "--log", log, "--measured", "develop=20.5"],
                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=True, timeout=60)
    with open(log, "rb") as file:
        return file.read()


def review(content, form):
    return harness.run("review", "--to", form, "-", stdin=content)


def test_cut_off(log, chance):
    head = log.index(b"\n") + 1
    wrong = []
    for at in sorted(chance.sample(range(head, len(log)), 120)):
        done = review(log[:at], "json")
        if done.returncode != 0:
            wrong.append(f"byte {at}: status {done.returncode}: {done.stderr.decode()}")
            continue
        run = json.loads(done.stdout)["runs"][0]
        is_cut = log[at - 1:at] != b"\n"
        if run["is_last_line_cut_off"] != is_cut or run["unread_lines"] != 0 or run["end"] == "finished":
            wrong.append(f"byte {at}: {run['is_last_line_cut_off']}, {run['unread_lines']}, {run['end']}")
        if is_cut and b"damaged" not in done.stderr:
            wrong.append(f"byte {at}: nothing is said")
        lines = log[:at].rsplit(b"\n", 1)[0].split(b"\n")
        begun = {line.split(b"\t")[4] for line in lines if line.startswith(b"event") and b"\tbegun\t" in line}
        if {str(step["number"]).encode() for step in run["steps"] if step["verdict"] != "not-begun"} != begun:
            wrong.append(f"byte {at}: steps begun differ")
    harness.check(not wrong, "cut off at any byte: all before it is read", "\n".join(wrong[:10]))
    harness.check(review(log[:head - 2], "json").returncode == 1, "without its first line it is no log")


def test_damaged(log, chance):
    """Any bytes in any place: a review all the same, in each format, and the lines left out are counted."""
    wrong, told = [], 0
    first = log.index(b"\n") + 1
    for trial in range(150):
        damaged = bytearray(log)
        for _ in range(chance.randint(1, 12)):
            at = chance.randrange(first, len(damaged))
            act = chance.randrange(4)
            if act == 0:
                damaged[at] = chance.randrange(256)
            elif act == 1:
                damaged[at:at] = bytes(chance.randrange(256) for _ in range(chance.randint(1, 30)))
            elif act == 2:
                del damaged[at:at + chance.randint(1, 40)]
            else:
                damaged[at:at + 1] = chance.choice([b"\t", b"\n", b"99999999999999999999", b"-", b"\x1b[2J", b"\x00", b"\xff"])
        form = ("json", "markdown", "csv")[trial % 3]
        done = review(bytes(damaged), form)
        told += b"damaged" in done.stderr
        if done.returncode != 0 or not done.stdout or b"\x1b" in done.stdout or b"\x00" in done.stdout:
            wrong.append(f"{trial}, {form}: status {done.returncode}, {done.stderr[:200]!r}")
        elif form == "json":
            json.loads(done.stdout)
        else:
            done.stdout.decode("utf-8")
    harness.check(not wrong, "damaged anywhere: a review all the same, nothing raw in it", "\n".join(wrong[:10]))
    harness.check(told > 75, "and most of the damage is told", str(told))
    done = review(log.replace(b"\nevent\t", b"\nevnt\t", 1), "json")
    harness.check(json.loads(done.stdout)["runs"][0]["unread_lines"] == 1 and b"line" in done.stderr,
                  "one line that cannot be read is one", done.stderr.decode())


def main():
    chance = random.Random(20260314)
    log = whole_log()
    harness.check(review(log, "json").stderr == b"", "a whole log is read without a word")
    test_cut_off(log, chance)
    test_damaged(log, chance)
    harness.end()


main()
