#!/usr/bin/env python3
"""wetside(1) knows the commands, options and formats of the row files, wetside(5) the keywords; both are clean mdoc, and
the example of wetside(5) compiles."""

import pathlib
import re
import shutil
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import rows

COMMAND_PAGE, FILE_PAGE = "docs/man/wetside.1", "docs/man/wetside.5"


def judge_command_page(text):
    text = text.replace("\\-", "-")
    described = text.partition(".Sh ENVIRONMENT")[0]
    commands = {row[0] for row in rows("commands/commands.def", "COMMAND")}
    listed = set(re.findall(r"^\.It Cm ([a-z]+)$", described, flags=re.M))
    harness.check(listed == commands, "wetside(1) describes the commands of commands.def", f"{listed ^ commands}")
    options = {row[1] for row in rows("commands/options.def", "OPTION")}
    items = re.findall(r"^\.It Fl (.*)$", described, flags=re.M)
    listed = {name for item in items for name in re.findall(r"-([a-z][a-z-]+)", item)}
    harness.check(listed == options, "wetside(1) describes the options of options.def", f"{listed ^ options}")
    formats = {row[1] for row in rows("emit/emitters.def", "EMITTER")}
    missing = {form for form in formats if not re.search(rf"^\.Cm {form}\b", described, flags=re.M)}
    harness.check(not missing, "wetside(1) names the formats of emitters.def", f"missing: {sorted(missing)}")


def judge_sections(text):
    found = re.findall(r"^\.Sh (.*)$", text, flags=re.M)
    missing = {"ENVIRONMENT", "FILES", "EXIT STATUS", "EXAMPLES", "DIAGNOSTICS", "SEE ALSO"} - set(found)
    harness.check(not missing, "wetside(1) has the sections that a reader looks for", f"missing: {missing}")


def judge_file_page(text):
    said = set(re.findall(r"[A-Za-z]+(?:-[a-z]+)*", text))
    missing = [row[1] for row in rows("syntax/words.def", "WORD") if row[1] not in said]
    harness.check(not missing, "wetside(5) names every keyword", f"missing: {missing}")
    example = re.search(r"^\.Bd -literal.*?\n(.*?)^\.Ed$", text, flags=re.M | re.S)[1]
    completed = harness.run("check", "--deny-warnings", "-", stdin=example.encode())
    harness.check(completed.returncode == 0, "the example of wetside(5) compiles", completed.stderr.decode())


def judge_markup(page):
    if not shutil.which("mandoc"):
        harness.skip(f"{page} is clean mdoc", "no mandoc")
        return
    completed = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", str(pathlib.Path(harness.ROOT, page))],
                               stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    harness.check(completed.returncode == 0, f"{page} is clean mdoc", completed.stdout.decode())
    shown = subprocess.run(["mandoc", "-T", "utf8", "-O", "width=80", str(pathlib.Path(harness.ROOT, page))],
                           stdout=subprocess.PIPE, check=False).stdout.decode()
    wide = [line for line in re.sub(".\b", "", shown).splitlines() if len(line) > 80]
    harness.check(not wide, f"{page} reads in 80 columns", "\n".join(wide))


def main():
    judge_command_page(harness.read(COMMAND_PAGE))
    judge_sections(harness.read(COMMAND_PAGE))
    judge_file_page(harness.read(FILE_PAGE))
    for page in (COMMAND_PAGE, FILE_PAGE):
        judge_markup(page)
    harness.end()


if __name__ == "__main__":
    main()
