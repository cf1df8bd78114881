#!/usr/bin/env python3
"""docs/tutorial.md from top to bottom, as its reader would go: each recipe is written to locker.wet, each command after a `$` is
run in the same folder, and what it prints is what is shown. (That the recipes compile, or do not, is for language_cases.py.)"""

import os
import pathlib
import re
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
import shown

DOCUMENT = "docs/tutorial.md"
MADE = ("sheet.html", "timer.sh")


def main():
    parts = re.split(r"^```wetside[^\n]*\n(.*?)^```$", harness.read(DOCUMENT), flags=re.M | re.S)
    with tempfile.TemporaryDirectory() as folder:
        count = shown.judge(DOCUMENT, parts[0], folder)
        for recipe, text in zip(parts[1::2], parts[2::2]):
            pathlib.Path(folder, "locker.wet").write_text(recipe, encoding="utf-8")
            count += shown.judge(DOCUMENT, text, folder)
        missing = [name for name in MADE if not os.path.exists(os.path.join(folder, name))]
        page = "" if missing else pathlib.Path(folder, MADE[0]).read_text(encoding="utf-8")
    harness.check(count >= 8 and not missing, f"{DOCUMENT} shows its commands and makes its files", f"{count} {missing}")
    harness.check("Side 1 of 1" in page, f"{DOCUMENT}: the sheet is one page", page[-400:])
    harness.end()


if __name__ == "__main__":
    main()
