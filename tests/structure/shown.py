"""What a document shows after a `$`: commands and the lines that they print. A line with three dots alone stands for lines left out.
Not a test by itself."""

import os
import pathlib
import re
import subprocess

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


def judge(document, text, folder):
    """Runs the commands that a part of a document shows, in a folder, and compares what they print; blank lines and kinds of space
    do not count. Returns how many there were."""
    link = pathlib.Path(folder, "wetside")
    if not link.exists():
        link.symlink_to(os.path.abspath(harness.WETSIDE))
    environment = dict(os.environ, PATH=f"{folder}{os.pathsep}{os.environ['PATH']}")
    shown = sessions(text)
    for command, lines in shown:
        completed = subprocess.run(["sh", "-c", command], cwd=folder, env=environment, check=False, stdout=subprocess.PIPE,
                                   stderr=subprocess.STDOUT)
        printed = completed.stdout.decode().replace("\u00a0", " ")
        harness.check(fits([line for line in lines if line.strip()], "\n".join(filter(str.strip, printed.splitlines()))),
                      f"{document} shows what comes of: {command}", printed)
    return len(shown)
