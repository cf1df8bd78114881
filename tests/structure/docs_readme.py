#!/usr/bin/env python3
"""What README.md shows after a `$` is what its recipe gives; its pictures are there, and small."""

import os
import pathlib
import re
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
import shown

MOST_BYTES = 150 * 1000


def main():
    text = harness.read("README.md")
    recipe = re.search(r"^```wetside\n(.*?)^```$", text, flags=re.M | re.S)[1]
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "film.wet").write_text(recipe, encoding="utf-8")
        harness.check(shown.judge("README.md", text, folder) > 0, "README.md shows something")
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", text)
    large = [picture for picture in pictures if os.path.getsize(os.path.join(harness.ROOT, picture)) > MOST_BYTES]
    harness.check(len(pictures) >= 2 and not large, "README.md has pictures with descriptions, none of them large", large)
    harness.end()


if __name__ == "__main__":
    main()
