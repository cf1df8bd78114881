#!/usr/bin/env python3
"""Compares what the program makes of tests/outputs/NAME.wet with the files beside it, byte for byte; only what exists is
compared: NAME.PRODUCT.EXTENSION for the rows of emitters.def, NAME.check.txt for messages and exit status of `check`.

    golden.py --update      writes the existing files anew and shows what changed (make golden-update)
    golden.py --add NAME    writes every file that NAME.wet can have
"""

import difflib
import os
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import harness  # noqa: E402

FOLDER = "tests/outputs"


def kinds():
    """What may stand between NAME and the end of a file's name, and the arguments that make it."""
    made = {".check.txt": ["check"]}
    for product, form, extension, *_ in definitions.rows("emit/emitters.def", "EMITTER"):
        made[f".{product}{extension}"] = [product, "--to", form]
    return made


def make(arguments, name):
    """The bytes of one output of one recipe."""
    completed = harness.run(*arguments, f"{FOLDER}/{name}.wet")
    if arguments == ["check"]:
        return completed.stderr + f"exit status {completed.returncode}\n".encode()
    if completed.returncode != 0:
        return completed.stdout + completed.stderr + f"exit status {completed.returncode}\n".encode()
    return completed.stdout


def difference(old, new, path):
    """A unified diff of two outputs."""
    lines = [part.decode("utf-8", "backslashreplace").splitlines(keepends=True) for part in (old, new)]
    return "".join(line if line.endswith("\n") else line + "\n" for line in difflib.unified_diff(*lines, path, path))


def write(path, new):
    """Writes an expected file where it changed, and shows how."""
    full = os.path.join(harness.ROOT, path)
    old = b""
    if os.path.exists(full):
        with open(full, "rb") as file:
            old = file.read()
    if old != new or not os.path.exists(full):
        with open(full, "wb") as file:
            file.write(new)
        print(difference(old, new, path), end="")


def main():
    made = kinds()
    present = sorted(os.listdir(os.path.join(harness.ROOT, FOLDER)))
    names = [name[:-4] for name in present if name.endswith(".wet")]
    wanted = [(name, kind) for name in names for kind in made if name + kind in present]
    if sys.argv[1:2] == ["--add"]:
        wanted = [(name, kind) for name in sys.argv[2:] for kind in made]
    known = {name + kind for name in names for kind in [*made, ".wet"]} | {os.path.basename(__file__)}
    for name in present:
        if not name.endswith((".py", ".sh", ".mjs")) and not name.startswith((".", "__")) and name not in known:
            harness.not_ok(f"{FOLDER}/{name} belongs to a recipe beside it")
    for name, kind in wanted:
        path, new = f"{FOLDER}/{name}{kind}", make(made[kind], name)
        if sys.argv[1:]:
            write(path, new)
            continue
        with open(os.path.join(harness.ROOT, path), "rb") as file:
            old = file.read()
        harness.check(old == new, path, lambda old=old, new=new, path=path: difference(old, new, path))
    harness.end()


main()
