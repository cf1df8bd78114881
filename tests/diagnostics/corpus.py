"""Recipes with and without findings, and their findings in each format."""

import glob
import json
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import expectations  # noqa: E402
import harness  # noqa: E402


# A day whose plan takes seconds with the sanitizers, which see it in tests/outputs/examples.py.
IS_SANITIZED, LONG = "/asan/" in harness.WETSIDE, ("examples/locker-7.wet",)


def recipes(*patterns):
    """Paths of the examples and of the recipes of the language suite, or of those that match."""
    patterns = patterns or ("examples/*.wet", "tests/language/*.wet", "tests/checks/*.wet")
    found = sorted(os.path.relpath(path, harness.ROOT)
                   for pattern in patterns for path in glob.glob(os.path.join(harness.ROOT, pattern)))
    return [path for path in found if not (IS_SANITIZED and path in LONG)]


def options_of(path):
    """The options that a recipe wants to be read with."""
    return expectations.options_in(harness.read(path))


def json_findings(*words, **more):
    """The findings that `check` gives as JSON."""
    done = harness.run("check", "--diagnostics", "json", *words, **more)
    return [json.loads(line) for line in done.stdout.decode("utf-8").splitlines()]


def apply_fix(content, fix):
    """The bytes of a file with one fix of a finding in them."""
    place = fix["place"]
    return content[:place["offset"]] + fix["text"].encode() + content[place["end_offset"]:]


def put(folder, name, content):
    """Writes a file, text or bytes, and returns its path."""
    path = os.path.join(folder, name)
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "wb") as file:
        file.write(content if isinstance(content, bytes) else content.encode())
    return path


def get(path):
    """The bytes of a file."""
    with open(path, "rb") as file:
        return file.read()
