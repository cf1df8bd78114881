#!/usr/bin/env python3
"""Where used files are looked for and which of them may be read: beside the using file, -I, WETSIDE_PATH, standard
input; folders, pipes, circles, links and paths that lead out of the folders that may be read."""

import os
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402


def put(folder, path, *lines):
    """A file of the language version and some lines."""
    path = os.path.join(folder, path)
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(("wetside 1", *lines, "")))


def tank(volume):
    """A tank whose volume tells which file was read: one that is declared twice is a finding."""
    return f"tank found {{ holds {volume} L }}"


def judge(name, folder, words, status, message=b"", absent=None, **more):
    done = run("check", *words, cwd=folder, **more)
    fits = done.returncode == status and message in done.stderr and (absent is None or absent not in done.stderr)
    check(fits, name, f"status {done.returncode}\n{done.stderr.decode()}")


def check_places(folder):
    """The first place that has the file counts; which that is shows in the place of a wrong unit in it."""
    for place in ("home", "one", "two"):
        put(folder, f"{place}/lib.wet", "tank found { holds 1 kg }")
    put(folder, "home/main.wet", 'use "lib.wet"')
    put(folder, "empty/main.wet", 'use "lib.wet"')
    judge("beside the using file first", folder, ["-I", "one", "home/main.wet"], 1, b"home/lib.wet:2:")
    judge("then -I in their order", folder, ["-I", "two", "-I", "one", "empty/main.wet"], 1, b"two/lib.wet:2:")
    judge("-I stands before WETSIDE_PATH", folder, ["-I", "one", "empty/main.wet"], 1, b"one/lib.wet:2:",
          environment={"WETSIDE_PATH": "two"})
    judge("WETSIDE_PATH in its order", folder, ["empty/main.wet"], 1, b"two/lib.wet:2:",
          environment={"WETSIDE_PATH": "none::two:one:"})
    judge("whatever the working folder", os.path.join(folder, "one"), ["../home/main.wet"], 1, b"../home/lib.wet:2:")
    judge("nowhere", folder, ["empty/main.wet"], 1, b"cannot use `lib.wet`: there is no such file")
    put(folder, "home/deep/middle.wet", 'use "../lib.wet"')
    put(folder, "home/deepest.wet", 'use "deep/middle.wet"')
    judge("beside the file that uses it", folder, ["home/deepest.wet"], 1, b"home/deep/../lib.wet:2:")


def check_standard_input(folder):
    text = b'wetside 1\nuse "lib.wet"\n'
    judge("standard input: the working folder", os.path.join(folder, "home"), ["-"], 1, b"lib.wet:2:", stdin=text)
    judge("standard input: beside --stdin-name", folder, ["--stdin-name=home/new.wet", "-"], 1, b"home/lib.wet:2:",
          stdin=text)
    judge("standard input: its name in messages", folder, ["--stdin-name=home/new.wet", "-"], 1, b"home/new.wet:2:5: ",
          stdin=b'wetside 1\nuse "none.wet"\n')
    judge("standard input: a name for lack of one", folder, ["-"], 1, b"<stdin>:2:5: ",
          stdin=b'wetside 1\nuse "none.wet"\n')


def check_kinds(folder):
    os.mkfifo(os.path.join(folder, "home/pipe.wet"))
    for name, wanted, message in (("a folder", "deep", b"it is a folder"), ("a pipe", "pipe.wet", b"it is a pipe"),
                                  ("no name", "", b"it names no file"),
                                  ("an absolute path", "/dev/null", b"is relative"),
                                  ("the folder itself", ".", b"it is a folder"),
                                  ("a file as a folder", "lib.wet/x", b"there is no such file"),
                                  ("a name that is too long", "n" * 300, b"its name is too long")):
        put(folder, "home/kind.wet", f'use "{wanted}"')
        judge(f"use of {name}", folder, ["home/kind.wet"], 1, message)
    put(folder, "home/nul.wet", r'use "a\nb"')
    judge("a line break in a path is shown, not printed", folder, ["home/nul.wet"], 1, b"cannot use `a<0x0A>b`")


def check_circles(folder):
    put(folder, "home/self.wet", 'use "self.wet"')
    judge("a file that uses itself", folder, ["home/self.wet"], 1, b"[use-cycle]")
    put(folder, "home/a.wet", 'use "b.wet"')
    put(folder, "home/b.wet", 'use "c.wet"')
    put(folder, "home/c.wet", 'use "./deep/../a.wet"')
    judge("a circle of three, by another path", folder, ["home/a.wet"], 1, b"home/c.wet:2:5: error")
    put(folder, "home/tank.wet", tank(1))
    put(folder, "home/once.wet", 'use "tank.wet"', 'use "./tank.wet"', 'use "tank-link.wet"')
    os.symlink("tank.wet", os.path.join(folder, "home/tank-link.wet"))
    judge("a file is read once, by whatever path and link", folder, ["home/once.wet"], 0, absent=b"error")


def check_bounds(folder):
    """A file outside of the folders that may be read stays unread, wherever links lead and whatever is not there."""
    put(folder, "secret/s.wet", tank(1))
    put(folder, "home/up.wet", 'use "../secret/s.wet"')
    put(folder, "home/link.wet", 'use "away.wet"')
    put(folder, "home/folder-link.wet", 'use "away/s.wet"')
    os.symlink("../secret/s.wet", os.path.join(folder, "home/away.wet"))
    os.symlink("../secret", os.path.join(folder, "home/away"))
    outside = b"it lies outside the folders that may be read"
    for name in ("up", "link", "folder-link"):
        judge(f"out of the folder: {name}", folder, [f"home/{name}.wet"], 1, outside)
        judge(f"an -I that is not there opens nothing: {name}", folder, ["-I", "none", f"home/{name}.wet"], 1, outside)
        judge(f"nor does an empty -I: {name}", folder, ["-I", "", f"home/{name}.wet"], 1, outside)
        judge(f"nor WETSIDE_PATH: {name}", folder, [f"home/{name}.wet"], 1, outside,
              environment={"WETSIDE_PATH": "none:/none"})
        judge(f"-I opens its folder: {name}", folder, ["-I", "secret", f"home/{name}.wet"], 0, absent=b"error")
    put(folder, "home-next/s.wet", tank(1))
    put(folder, "home/next.wet", 'use "../home-next/s.wet"')
    judge("a folder whose name only begins alike", folder, ["home/next.wet"], 1, outside)
    judge("standard input from a folder that is not there", folder, ["--stdin-name=none/x.wet", "-"], 1,
          b"cannot use `../secret/s.wet`", stdin=b'wetside 1\nuse "../secret/s.wet"\n')
    os.symlink("home/tank.wet", os.path.join(folder, "main-link.wet"))
    judge("a main file may be a link", folder, ["main-link.wet"], 0, absent=b"error")


def check_length(folder):
    """A long chain of files is no danger to the stack."""
    count = 3000
    for number in range(count):
        put(folder, f"chain/f{number}.wet", f'use "f{number + 1}.wet"')
    put(folder, f"chain/f{count}.wet", "tank far { holds 1 kg }")
    done = run("check", "chain/f0.wet", cwd=folder)
    check(done.returncode == 1 and f"f{count}.wet:2:18: error".encode() in done.stderr,
          f"a chain of {count} files", f"status {done.returncode}\n{done.stderr.decode()[-300:]}")


def check_lost_file(folder):
    """One that cannot be read is one message: what it declares is not called unknown."""
    put(folder, "home/lost.wet", 'use "none.wet"', "process p {", "  develops C-41", "  tank upright",
        "  step develop in developer at 38 °C for 3:15", "}")
    done = run("check", "home/lost.wet", cwd=folder)
    check(done.returncode == 1 and done.stderr.endswith(b"wetside: 1 error\n"), "a lost file is one message",
          done.stderr.decode())


def main():
    with tempfile.TemporaryDirectory() as folder:
        check_places(folder)
        check_standard_input(folder)
        check_kinds(folder)
        check_circles(folder)
        check_bounds(folder)
        check_length(folder)
        check_lost_file(folder)
    end()


if __name__ == "__main__":
    main()
