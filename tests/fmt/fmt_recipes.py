#!/usr/bin/env python3
"""Every recipe of the project: formatted twice it is as formatted once, and nothing that it says is changed or lost.

Recipes are the examples, every .wet under tests/ and every block of the documents, but for those with a mistake of
syntax."""
# timeout: 600
# lasts: 25

import glob
import json
import os
import re
import shutil
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness
from recipe_tokens import comments, tokens

FOLDER = tempfile.mkdtemp()
HAS_MODEL = b"\n  model" in harness.run("--help").stdout
SHARE = 6 if f"{os.sep}asan{os.sep}" in os.environ.get("WETSIDE", "") else 1  # the sanitized build is slow: every sixth


def findings(folder, name):
    """What check says, without places and excerpts."""
    err = harness.run("check", "--max-errors", "0", name, cwd=folder).stderr.decode()
    return [re.sub(r":\d+:\d+:", ":", line) for line in err.splitlines() if not re.match(r" +\d* \|", line)]


def products(folder, name):
    """Cues with their fingerprints, and the model where the program prints it."""
    text = harness.read(os.path.join(folder, name))
    results = []
    for process in re.findall(r"^process +([^\s{\"]+)", text, re.M):
        cues = harness.run("cues", "--to", "json", "--process", process, name, cwd=folder)
        results.append((cues.returncode, json.loads(cues.stdout) if cues.stdout else None))
        if HAS_MODEL:
            results.append(harness.run("model", "--process", process, name, cwd=folder).stdout)
    return results


def problems(folder, name, content):
    """What formatting spoils in a recipe that stands in a folder among what it uses; None where it cannot be read."""
    path = os.path.join(folder, name)
    with open(path, "wb") as file:
        file.write(content)
    once = harness.run("fmt", "-", stdin=content)
    if once.returncode == 2:
        return None
    found = []
    if harness.run("fmt", "-", stdin=once.stdout).stdout != once.stdout:
        found.append("a second run changes it")
    if comments(once.stdout) != comments(content):
        found.append("comments differ")
    if tokens(once.stdout) != tokens(content):
        found.append("tokens differ")
    before = findings(folder, name), products(folder, name)
    with open(path, "wb") as file:
        file.write(once.stdout)
    after = findings(folder, name), products(folder, name)
    if before[0] != after[0]:
        found.append(f"findings differ: {before[0]} {after[0]}")
    if before[1] != after[1]:
        found.append("cues, fingerprint or model differ")
    with open(path, "wb") as file:
        file.write(content)
    return found


def documents():
    """The recipes in the documents, those of a few clauses within their frame."""
    for path in sorted(glob.glob("docs/**/*.md", root_dir=harness.ROOT, recursive=True)
                       + glob.glob("src/check/explain/*.md", root_dir=harness.ROOT) + ["README.md"]):
        blocks = re.findall(r"^( *)```wetside([^\n]*)\n(.*?)^ *```", harness.read(path), re.M | re.S)
        for number, (indent, words, block) in enumerate(blocks, 1):
            frame = re.search(r"fragment=(\S+)", words)
            block = re.sub("^" + indent, "", block, flags=re.M)
            if frame:
                block = harness.read(f"tests/language/fragments/{frame[1]}.wet").replace("@@", block)
            yield f"{path} block {number}", "examples", block.encode()


def files():
    """The .wet files of the repository."""
    for path in sorted(glob.glob("examples/*.wet", root_dir=harness.ROOT)
                       + glob.glob("tests/**/*.wet", root_dir=harness.ROOT, recursive=True)):
        with open(os.path.join(harness.ROOT, path), "rb") as file:
            yield path, os.path.dirname(path), file.read()


def copy_of(folder):
    """A copy of a folder's recipes, to write beside them."""
    target = os.path.join(FOLDER, folder)
    if not os.path.isdir(target):
        os.makedirs(target)
        for path in glob.glob(os.path.join(harness.ROOT, folder, "*.wet")):
            shutil.copy(path, target)
    return target


formatted = 0
for origin in (files, documents):
    spoilt = []
    for title, home, recipe in list(origin())[::SHARE]:
        name = os.path.basename(title) if origin is files else "block-of-a-document.wet"
        result = problems(copy_of(home), name, recipe)
        formatted += result is not None
        spoilt += [f"{title}: {problem}" for problem in result or []]
    harness.check(not spoilt, f"nothing is lost or changed: {origin.__name__}", "\n".join(spoilt[:20]))
harness.check(formatted > 250 // SHARE, "enough recipes were formatted", f"only {formatted}")
changed = harness.run("fmt", "--check", *sorted(glob.glob("examples/*.wet", root_dir=harness.ROOT)))
harness.check(changed.returncode == 0, "the examples have the form", changed.stdout.decode())
shutil.rmtree(FOLDER)
harness.end()
