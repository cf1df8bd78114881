#!/usr/bin/env python3
# builds: plain
"""`make install` puts everything where GNU names say, `make uninstall` takes all of it away again."""

import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness

WANTED = ["bin/wetside", "share/man/man1/wetside.1", "share/man/man5/wetside.5",
          "share/bash-completion/completions/wetside", "share/zsh/site-functions/_wetside",
          "share/fish/vendor_completions.d/wetside.fish", "share/doc/wetside/README.md",
          "share/doc/wetside/language.md", "share/doc/wetside/words.md", "share/doc/wetside/examples/room.wet",
          "share/doc/wetside/schemas/cues.schema.json", "share/wetside/editor/vim/syntax/wetside.vim",
          "share/wetside/editor/textmate/wetside.tmLanguage.json"]


def make(*words):
    return subprocess.run(["make", "-o", "build/wetside", *words], cwd=harness.ROOT, check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)


def files(folder):
    """Every file below a folder, by its path from there."""
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if not path.is_dir())


def judge(name, root, prefix, *words):
    place = pathlib.Path(str(root) + prefix)
    made = make("install", f"DESTDIR={root}", *words)
    found = files(pathlib.Path(root))
    missing = [path for path in WANTED if not (place / path).is_file()]
    harness.check(made.returncode == 0 and not missing, f"{name}: everything is in its place",
                  f"missing: {missing}\n{made.stdout.decode()}")
    modes = [path for path in found
             if (pathlib.Path(root) / path).stat().st_mode & 0o777 != (0o755 if path.endswith("bin/wetside") else 0o644)]
    harness.check(not modes, f"{name}: everybody may read it, and only the program is executable", f"not so: {modes}")
    told = subprocess.run([place / "bin/wetside", "--version"], stdout=subprocess.PIPE, check=False).stdout
    harness.check(told.startswith(b"wetside "), f"{name}: the program runs", told)
    taken = make("uninstall", f"DESTDIR={root}", *words)
    left = files(pathlib.Path(root)) + [str(path) for path in pathlib.Path(root).rglob("*wetside*")]
    harness.check(taken.returncode == 0 and found and not left, f"{name}: uninstall leaves nothing", f"left: {left}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        judge("the default", os.path.join(folder, "one"), "/usr/local")
        judge("PREFIX=/usr", os.path.join(folder, "two"), "/usr", "PREFIX=/usr")
        judge("prefix=/opt/film room", os.path.join(folder, "three"), "/opt/film room", "prefix=/opt/film room")
        foreign = pathlib.Path(folder, "four/usr/local/share/doc/wetside/mine.txt")
        foreign.parent.mkdir(parents=True)
        foreign.write_text("mine", encoding="utf-8")
        make("install", f"DESTDIR={folder}/four")
        make("uninstall", f"DESTDIR={folder}/four")
        harness.check(files(pathlib.Path(folder, "four")) == [str(foreign.relative_to(f"{folder}/four"))],
                      "uninstall leaves what it did not put there")
    harness.end()


main()
