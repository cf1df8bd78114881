#!/usr/bin/env python3
"""The page passes the checkers of others: vnu (the W3C's, with its CSS and content policy checks), html-validate, tidy.
Every example process, and every hostile recipe."""

# builds: plain

import os
import subprocess
import sys
import tempfile

import sheets
from harness import ROOT, check, end, skip

NODE = os.path.join(ROOT, "tests", "node", "node_modules")


def write_all(folder):
    """All pages as files."""
    paths = []
    for path, process in sheets.processes():
        paths.append(write(folder, process, sheets.emit("sheet", "html", path, process)))
    for name in sheets.PAYLOADS:
        paths.append(write(folder, "hostile " + name, sheets.emit("sheet", "html", sheets.hostile(folder, name))))
    return paths


def write(folder, name, page):
    path = os.path.join(folder, name.replace(" ", "-") + ".html")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(page)
    return path


def ask(name, command, paths):
    """Runs a checker over all pages at once; what it says names the page."""
    done = subprocess.run([*command, *paths], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    said = done.stdout.decode("utf-8", "replace")
    for path in paths:
        lines = [line for line in said.splitlines() if os.path.basename(path) in line and not is_guess(line)]
        check(not lines, f"{name}: {os.path.basename(path)}", "\n".join(lines[:10]))
    strange = [line for line in said.splitlines() if line and not is_guess(line)]
    check(not strange, f"{name} has nothing else to say", "\n".join(strange[:10]))


def is_guess(line):
    """vnu guesses the language of the words, and hostile ones are of none; html-validate counts a reference such as
    &lt; as several characters of a title."""
    return "This document appears to be written in" in line or ("hostile" in line and "[long-title]" in line)


def main():
    sheets.need("java", "node", "tidy")
    vnu = os.path.join(NODE, "vnu-jar", "build", "dist", "vnu.jar")
    validate = os.path.join(NODE, ".bin", "html-validate")
    if not os.path.exists(vnu) or not os.path.exists(validate):
        skip("validators", "vnu-jar or html-validate is not installed in tests/node")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        paths = write_all(folder)
        ask("vnu", ["java", "-jar", vnu, "--format", "gnu", "--Werror"], paths)
        ask("html-validate", [validate, "--formatter", "text"], paths)
        for path in paths:  # tidy does not name the page
            done = subprocess.run(["tidy", "-quiet", "-errors", path], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                                  check=False)
            check(done.returncode == 0, f"tidy: {os.path.basename(path)}", done.stdout.decode("utf-8", "replace")[:1000])
    end()


if __name__ == "__main__":
    main()
