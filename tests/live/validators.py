#!/usr/bin/env python3
"""The live page passes the checkers of others: vnu (the W3C's) and html-validate. The one thing that vnu says against it is left
out: it takes the plan, which is data, for a script that the content policy does not allow."""

# builds: plain

import os
import subprocess
import sys
import tempfile

sys.path[:0] = [os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", name) for name in ("", "sheet")]
import harness  # noqa: E402
import sheets  # noqa: E402

MISTAKEN = "Inline script violates Content Security Policy"
MODULES = os.path.join(harness.ROOT, "tests", "node", "node_modules")
PAGES = [("tests/live/two-hours.wet", "two-hours"), ("tests/timer/measured.wet", "open"),
         ("examples/colour-negative-bleach-fix.wet", "colour-negative")]


def ask(name, command, paths):
    done = subprocess.run([*command, *paths], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    lines = done.stdout.decode("utf-8", "replace").splitlines()
    said = [line for line in lines if line.strip() and MISTAKEN not in line]
    harness.check(not said, f"{name} finds nothing", "\n".join(said[:10]))
    return len(lines) - len(said)


def main():
    sheets.need("java", "node")
    vnu = os.path.join(MODULES, "vnu-jar", "build", "dist", "vnu.jar")
    if not os.path.exists(vnu):
        print("vnu-jar is not installed in tests/node")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, f"{process}.html") for _, process in PAGES]
        for (recipe, process), path in zip(PAGES, paths):
            done = harness.run("live", "--process", process, "-o", path, recipe)
            harness.check(done.returncode == 0, f"{process}: the page is made", done.stderr.decode("utf-8", "replace"))
        mistaken = ask("vnu", ["java", "-jar", vnu, "--format", "gnu", "--Werror"], paths)
        harness.check(mistaken == len(paths), "vnu saw every page", mistaken)
        ask("html-validate", [os.path.join(MODULES, ".bin", "html-validate"), "--formatter", "text"], paths)
    harness.end()


if __name__ == "__main__":
    main()
