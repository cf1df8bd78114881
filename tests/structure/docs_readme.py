#!/usr/bin/env python3
"""What README.md shows after a `$` is what its recipe gives; a line with three dots alone stands for lines left out."""

import os
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness

LEFT_OUT = "…"


def sessions(text):
    """Pairs of a command and the lines that it is said to print."""
    found = []
    for block in re.findall(r"(?:^    .*\n|^\n)+", text, flags=re.M):
        lines = [line[4:] for line in block.rstrip("\n").splitlines()]
        for line in lines:
            if line.startswith("$ "):
                found.append((line[2:], []))
            elif found and lines[0:1] and any(shown.startswith("$ ") for shown in lines):
                found[-1][1].append(line)
    return found


def fits(shown, printed):
    """Whether the lines shown are those printed, in order, with nothing left out but where it says so."""
    pieces = ("\n" + "\n".join(shown)).split("\n" + LEFT_OUT)
    rest = printed.strip("\n")
    for index, piece in enumerate(pieces):
        piece = piece.strip("\n")
        at = rest.find(piece)
        if at < 0 or (index == 0 and at > 0):
            return False
        rest = rest[at + len(piece) :]
    return rest == "" or shown[-1] == LEFT_OUT


def main():
    text = harness.read("README.md")
    recipe = re.search(r"^```wetside\n(.*?)^```$", text, flags=re.M | re.S)[1]
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "film.wet").write_text(recipe, encoding="utf-8")
        os.symlink(os.path.abspath(harness.WETSIDE), os.path.join(folder, "wetside"))
        environment = dict(os.environ, PATH=folder + os.pathsep + os.environ["PATH"])
        shown = sessions(text)
        harness.check(shown, "README.md shows something")
        for command, lines in shown:
            completed = subprocess.run(["sh", "-c", command], cwd=folder, env=environment, check=False,
                                       stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
            printed = completed.stdout.decode()
            harness.check(fits([line for line in lines if line], "\n".join(filter(None, printed.splitlines()))),
                          f"README.md shows what comes of: {command}", printed)
    harness.end()


if __name__ == "__main__":
    main()
