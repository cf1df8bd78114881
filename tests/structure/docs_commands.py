#!/usr/bin/env python3
"""docs/commands.md is the help of the program and of every command. `--write` brings it up to date."""

import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import ROOT, rows

WRITES = "--write" in sys.argv
DOCUMENT = ROOT / "docs" / "commands.md"
HEAD = """# Commands

What `wetside --help` and `wetside COMMAND --help` say. Made from the program by `tests/structure/docs_commands.py --write`.
"""


def document():
    out = [HEAD]
    commands = [row[0].replace("_", "-") for row in rows("commands/commands.def", "COMMAND")]
    for words in ([], *([command] for command in commands)):
        text = harness.run(*words, "--help").stdout.decode().rstrip("\n")
        shown = "\n".join(f"    {line}".rstrip() for line in text.splitlines())
        out.append(f"## wetside {' '.join(words)}".rstrip() + f"\n\n{shown}\n")
    return "\n".join(out)


def main():
    if WRITES:
        DOCUMENT.write_text(document(), encoding="utf-8")
        return
    text = DOCUMENT.read_text(encoding="utf-8")
    harness.check(text == document(), "docs/commands.md is what the help says",
                  f"bring it up to date with: {sys.argv[0]} --write")
    options = {row[1] for row in rows("commands/options.def", "OPTION")}
    for title, section in re.findall(r"^## (wetside.*?)$(.*?)(?=^## |\Z)", text, flags=re.M | re.S):
        found = set(re.findall(r"^ {6}.*?--([a-z-]+)", section, flags=re.M))
        harness.check(found and found <= options, f"docs/commands.md: the options of {title} are in options.def",
                      f"not: {found - options}")
    found = set(re.findall(r"^ {6}.*?--([a-z-]+)", text, flags=re.M))
    harness.check(found == options, "docs/commands.md has every option", f"{found ^ options}")
    harness.end()


if __name__ == "__main__":
    main()
