#!/usr/bin/env python3
# builds: plain
"""C17, C14: dependency files that GNU make and ninja read: a product is made again when a used file has changed, and not
otherwise; odd names; files taken away; nothing without a product."""

import os
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import get, harness, put  # noqa: E402

STARTER = harness.run("new", "-o", "-", "trial").stdout.decode()
BATHS = STARTER[STARTER.index("# What the bottle says"):STARTER.index("process trial")]
MAIN = STARTER.replace(BATHS, "").replace("wetside 1\n", 'wetside 1\nuse "{used}"\n', 1)
ODD = ["plain.wet", "two words.wet", "a#b.wet", "cost$.wet", "back\\slash.wet", "back\\ blank.wet", "col:on.wet", "größe.wet"]


def make_folder(folder, used="baths.wet", main="main.wet"):
    put(folder, used, "wetside 1\n" + BATHS)
    put(folder, main, MAIN.replace("{used}", used.replace("\\", "\\\\")))


def age(path, seconds):
    """Makes a file older or younger."""
    now = os.stat(path).st_mtime
    os.utime(path, (now + seconds, now + seconds))


def quoted(name):
    return "'" + name.replace("$", "$$") + "'"


def write_makefile(folder, main, flags="-MD -MP"):
    name = quoted(main)
    put(folder, "Makefile", f"sheet.html: ; '{harness.WETSIDE}' sheet {name} -o $@ {flags} && echo made\n-include sheet.html.d\n")


def write_ninja(folder, main, flags="-MD"):
    name = quoted(main)
    put(folder, "build.ninja", f"""rule sheet
  command = '{harness.WETSIDE}' sheet {name} -o $out {flags} && echo made
  depfile = $out.d
  deps = gcc
build sheet.html: sheet
""")


def builds(folder, tool):
    """True where the tool made the product, False where it had nothing to do, its words where it failed."""
    done = subprocess.run(tool, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    words = done.stdout.decode("utf-8", "replace")
    return re.search(r"^made$", words, flags=re.M) is not None if done.returncode == 0 else words


def judge_tool(name, tool, write):
    with tempfile.TemporaryDirectory() as folder:
        make_folder(folder)
        for file in ("main.wet", "baths.wet"):
            age(os.path.join(folder, file), -100)
        write(folder, "main.wet")
        steps = [builds(folder, tool), builds(folder, tool)]
        for file in ("baths.wet", "main.wet"):
            age(os.path.join(folder, file), 200)
            steps.append(builds(folder, tool))
            age(os.path.join(folder, file), -200)
            if name == "make":
                age(os.path.join(folder, "sheet.html"), 1)
            steps.append(builds(folder, tool) if name == "make" else False)
        harness.check(steps == [True, False, True, False, True, False],
                      f"C17: {name} makes the sheet anew after a used file has changed, and only then", steps)


def judge_gone():
    """A used file that is no longer used may be taken away: -MP for make; ninja needs nothing."""
    for name, tool, write in (("make", ["make"], write_makefile), ("ninja", ["ninja"], write_ninja)):
        with tempfile.TemporaryDirectory() as folder:
            make_folder(folder)
            write(folder, "main.wet")
            first = builds(folder, tool)
            os.unlink(os.path.join(folder, "baths.wet"))
            put(folder, "main.wet", STARTER)
            harness.check(first is True and builds(folder, tool) is True, f"C17: {name}: a used file was taken away")


def judge_odd_names():
    for odd in ODD:
        for name, tool, write in (("make", ["make"], write_makefile), ("ninja", ["ninja"], write_ninja)):
            with tempfile.TemporaryDirectory() as folder:
                make_folder(folder, used=odd)
                age(os.path.join(folder, odd), -100)
                age(os.path.join(folder, "main.wet"), -100)
                write(folder, "main.wet")
                steps = [builds(folder, tool), builds(folder, tool)]
                age(os.path.join(folder, odd), 200)
                steps.append(builds(folder, tool))
                harness.check(steps == [True, False, True], f"C17: {name} reads the name `{odd}`",
                              lambda: f"{steps}\n{get(os.path.join(folder, 'sheet.html.d')).decode()}")


def rule_of(path):
    return get(path).decode().replace(" \\\n ", "").split("\n")


def judge_options(folder):
    make_folder(folder)
    run = lambda *words: harness.run(*words, cwd=folder)  # noqa: E731
    path = lambda name: os.path.join(folder, name)  # noqa: E731
    run("cues", "main.wet", "-o", "cues.txt", "-MD")
    harness.check(rule_of(path("cues.txt.d")) == ["cues.txt: main.wet baths.wet", ""], "C17: -MD writes OUT.d", get(path("cues.txt.d")))
    run("cues", "main.wet", "-o", "cues.txt", "-MF", "one.d", "-MT", "cues and more", "-MP")
    harness.check(rule_of(path("one.d")) == ["cues\\ and\\ more: main.wet baths.wet", "", "baths.wet:", ""],
                  "C17: -MF, -MT and -MP", get(path("one.d")))
    run("cues", "main.wet", "-o", "cues.txt", "-MFtwo.d", "-MTjoined")
    harness.check(rule_of(path("two.d"))[0].startswith("joined:"), "C17: -MFfile is -MF file")
    run("cues", "main.wet", "-o", "cues.txt", "--depend", "--depfile=three.d", "--deptarget=cues and more", "--depstubs")
    harness.check(get(path("three.d")) == get(path("one.d")), "C17: the long names do the same")
    run("check", "main.wet", "-MF", "check.d", "-MT", "checked")
    harness.check(rule_of(path("check.d")) == ["checked: main.wet baths.wet", ""], "C17: check names its files too")
    done = run("cues", "main.wet", "-MF", "std.d", "-MT", "cues")
    harness.check(done.returncode == 0 and done.stdout and rule_of(path("std.d"))[0].startswith("cues:"),
                  "C17: with standard output the target is named")
    for words, said in ((["-MD"], "-MF"), (["-MD", "-o", "-"], "-MF"), (["-MF", "no.d"], "-MT"), (["-MF", "no.d", "-o", "-"], "-MT"),
                        (["-MP"], "-MD"), (["-MT", "x"], "-MD"), (["-MQ", "x"], "-MQ"), (["-MF"], "-MF"), (["-M"], "argument"),
                        (["-MF", "-", "-o", "x"], "name of a file")):
        done = run("cues", "main.wet", *words)
        harness.check(done.returncode == 2 and said in done.stderr.decode() and not os.path.exists(path("no.d")),
                      f"C17: {' '.join(words)} is refused", done.stderr.decode())
    put(folder, "wrong.wet", STARTER.replace("0.5", "0,5"))
    run("cues", "wrong.wet", "-o", "wrong.txt", "-MD")
    harness.check(not os.path.exists(path("wrong.txt.d")) and not os.path.exists(path("wrong.txt")),
                  "C17: nothing is written without a product")
    run("cues", "main.wet", "-o", "cues.txt", "-MF", "absent/four.d", "-MT", "x")
    before = os.stat(path("cues.txt")).st_ino
    done = run("cues", "main.wet", "-o", "cues.txt", "-MF", "absent/four.d")
    harness.check(done.returncode == 2 and os.stat(path("cues.txt")).st_ino == before,
                  "C17: a file that cannot be written keeps the product back", done.stderr.decode())
    shutil.copytree(folder, os.path.join(folder, "lib"), ignore=shutil.ignore_patterns("lib"))
    os.unlink(path("baths.wet"))
    put(folder, "else/baths.wet", "wetside 1\n" + BATHS)
    for words, where in ((["-I", "lib"], "lib"), ([], "else")):
        harness.run("cues", "main.wet", "-o", "cues.txt", "-MD", *words, cwd=folder, environment={"WETSIDE_PATH": "else"})
        harness.check(rule_of(path("cues.txt.d"))[0] == f"cues.txt: main.wet {where}/baths.wet",
                      f"C14: found in {where}, and named so", get(path("cues.txt.d")))


def main():
    for name, tool, write in (("make", ["make"], write_makefile), ("ninja", ["ninja"], write_ninja)):
        if shutil.which(tool[0]):
            judge_tool(name, tool, write)
        else:
            harness.skip(name, "is not installed")
    if shutil.which("make") and shutil.which("ninja"):
        judge_gone()
        judge_odd_names()
    with tempfile.TemporaryDirectory() as folder:
        judge_options(folder)
    harness.end()


if __name__ == "__main__":
    main()
