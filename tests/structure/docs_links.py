#!/usr/bin/env python3
"""Every link inside the project's documents leads to a file that is there, and to a heading that is there."""

import glob
import os
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness

DOCUMENTS = ["*.md", "docs/*.md", "src/check/explain/*.md", "examples/*.md"]


def without_code(text):
    text = re.sub(r"^```.*?^```", "", text, flags=re.M | re.S)
    return re.sub(r"`[^`\n]*`", lambda match: match[0].replace("[", " "), text)


def anchors(text):
    """The names that headings get where documents are shown: lower case, hyphens for spaces, no signs."""
    headings = re.findall(r"^#+ (.*)$", re.sub(r"^```.*?^```", "", text, flags=re.M | re.S), flags=re.M)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def main():
    paths = sorted(path for pattern in DOCUMENTS for path in glob.glob(os.path.join(harness.ROOT, pattern)))
    for path in paths:
        name = os.path.relpath(path, harness.ROOT)
        broken = []
        for target in re.findall(r"\]\(([^)\s]+)\)", without_code(harness.read(name))):
            if re.match(r"[a-z]+:", target):
                continue
            file, _, anchor = target.partition("#")
            there = os.path.normpath(os.path.join(os.path.dirname(path), file)) if file else path
            if not os.path.exists(there):
                broken.append(target)
            elif anchor and anchor not in anchors(harness.read(os.path.relpath(there, harness.ROOT))):
                broken.append(target)
        harness.check(not broken, f"links of {name}", "\n".join(broken))
    harness.end()


if __name__ == "__main__":
    main()
