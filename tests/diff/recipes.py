"""What the tests of `wetside diff` share. Not a test by itself."""

import json
import os
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
import harness  # noqa: E402

BASE_PATH = "tests/diff/base.wet"
BASE = harness.read(BASE_PATH)


def edited(edits, text=BASE):
    """The base with the first place of each text replaced; a text that is not there ends the script."""
    for old, new in edits:
        if old not in text:
            sys.exit(f"not in the recipe: {old}")
        text = text.replace(old, new, 1)
    return text


def write(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    return path


def diff(old, new, *options):
    """Status and output of the comparison of two files."""
    done = harness.run("diff", *options, old, new)
    if done.returncode == 2:
        return 2, done.stderr.decode("utf-8", "replace")
    return done.returncode, done.stdout.decode("utf-8")


def data(old, new, *options):
    """The comparison as data; None where one does not compile."""
    status, text = diff(old, new, "--to", "json", *options)
    return None if status == 2 else json.loads(text)


def model(path):
    """The bytes of the model; None where it does not compile."""
    done = harness.run("model", path)
    return done.stdout if done.returncode == 0 else None


def fingerprints(path):
    """Fingerprint of each process, by name."""
    return fingerprints_in(model(path))


def fingerprints_in(bytes_):
    """The same of the bytes of a model."""
    return None if bytes_ is None else {each["name"]: each["fingerprint"] for each in json.loads(bytes_)["processes"]}


def declarations(text):
    """A recipe cut where its declarations begin: what stands before the first, then each with the comments above it."""
    pieces = re.split(r"^(?=(?:tank|graduate|heater|dryer|thermometer|film|solution|on hand|process|allow|use)\b)", text,
                      flags=re.M)
    return pieces[0], pieces[1:]
