#!/usr/bin/env python3
"""Compares what the program makes of tests/outputs/NAME.wet with the files beside it, byte for byte; only what exists is
compared: NAME.PRODUCT.EXTENSION for the rows of emitters.def, NAME.check.txt for messages and exit status of `check`. fired.txt
has the messages of every tests/checks/ID.fires.wet, with their helps and notes.

    golden.py --update      writes the existing files anew and shows what changed (make golden-update)
    golden.py --add NAME    writes every file that NAME.wet can have: of a recipe with errors, the messages. A sound track
                            is too large to lie here; tests/cues/sound.py has the sum of one.
"""

import difflib
import os
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import expectations  # noqa: E402
import harness  # noqa: E402

FOLDER = "tests/outputs"
FIRED = f"{FOLDER}/fired.txt"


def kinds():
    """What may stand between NAME and the end of a file's name, and the arguments that make it."""
    made = {".check.txt": ["check"]}
    for product, form, extension, *_ in definitions.rows("emit/emitters.def", "EMITTER"):
        if extension != ".wav":
            made[f".{product}{extension}"] = [product, "--to", form]
    return made


def make(arguments, name):
    """The bytes of one output of one recipe; where there is none, what was said instead."""
    completed = harness.run(*arguments, f"{FOLDER}/{name}.wet")
    if completed.returncode not in (0, 1, 2):
        sys.exit(f"golden.py: {harness.WETSIDE} ended with {completed.returncode}:\n{completed.stderr.decode()}")
    if completed.returncode != 0 or arguments == ["check"]:
        return completed.stdout + completed.stderr + f"exit status {completed.returncode}\n".encode()
    return completed.stdout


def make_fired():
    """What every check says where it fires, one after the other."""
    folder = "tests/checks"
    parts = []
    for name in sorted(os.listdir(os.path.join(harness.ROOT, folder))):
        if name.endswith(".fires.wet"):
            path = f"{folder}/{name}"
            parts.append(harness.run("check", *expectations.options_in(harness.read(path)), path).stderr)
    return b"\n".join(parts)


def difference(old, new, path):
    """A unified diff of two outputs."""
    lines = [part.decode("utf-8", "backslashreplace").splitlines(keepends=True) for part in (old, new)]
    return "".join(line if line.endswith("\n") else line + "\n" for line in difflib.unified_diff(*lines, path, path))


def read(path):
    """The bytes of an expected file; none where it does not exist yet."""
    full = os.path.join(harness.ROOT, path)
    if not os.path.exists(full):
        return b""
    with open(full, "rb") as file:
        return file.read()


def write(path, old, new):
    """Writes an expected file where it changed, and shows how."""
    if old != new:
        with open(os.path.join(harness.ROOT, path), "wb") as file:
            file.write(new)
        print(difference(old, new, path), end="")


def judge_files(names, present, made):
    """Each recipe has an expected file, and each file but the scripts belongs to a recipe."""
    present = set(present) - {os.path.basename(FIRED)}
    files = {name for name in present if not name.startswith((".", "__")) and not name.endswith((".py", ".sh", ".mjs"))}
    for name in names:
        if not any(name + kind in files for kind in made):
            harness.not_ok(f"{FOLDER}/{name}.wet has an expected output beside it")
    for name in sorted(files - {name + kind for name in names for kind in [*made, ".wet"]}):
        harness.not_ok(f"{FOLDER}/{name} belongs to a recipe beside it")


def main():
    made = kinds()
    present = sorted(os.listdir(os.path.join(harness.ROOT, FOLDER)))
    names = [name[:-4] for name in present if name.endswith(".wet")]
    wanted = [(name, kind) for name in names for kind in made if name + kind in present]
    if sys.argv[1:2] == ["--add"]:
        wanted = [(name, kind) for name in sys.argv[2:] for kind in made]
        broken = {name for name in sys.argv[2:] if harness.run("check", f"{FOLDER}/{name}.wet").returncode != 0}
        wanted = [(name, kind) for name, kind in wanted if name not in broken or kind == ".check.txt"]
    elif not sys.argv[1:]:
        judge_files(names, present, made)
    outputs = [(f"{FOLDER}/{name}{kind}", lambda name=name, kind=kind: make(made[kind], name)) for name, kind in wanted]
    for path, made_now in outputs + ([] if sys.argv[1:2] == ["--add"] else [(FIRED, make_fired)]):
        old, new = read(path), made_now()
        if sys.argv[1:]:
            write(path, old, new)
        else:
            harness.check(old == new, path, lambda old=old, new=new, path=path: difference(old, new, path))
    harness.end()


main()
