#!/usr/bin/env python3
"""In a real repository, with the git of the system and the lines of docs/git.md: external diff and textconv. git hands
over temporary copies, so that `use` has to be looked for beside the path; a broken recipe, or a used file that is not
there, stops nothing."""

# builds: plain asan

import os
import re
import shutil
import subprocess
import sys
import tempfile

import recipes
from harness import ROOT, WETSIDE, check, end, read, skip

BATHS = """wetside 1
solution developer { role developer; dilute 1+9; one-shot; hazards none; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
"""
FILM = """wetside 1
use "baths.wet"
tank jar { holds 600 mL; takes 1 x 135; fill 6 s; drain 6 s }
process film {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 60 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for at least 20:00
}
"""


class Repository:
    def __init__(self, folder):
        self.folder = os.path.join(folder, "library")
        os.makedirs(self.folder)
        tools = os.path.join(folder, "tools")
        os.makedirs(tools)
        os.symlink(os.path.abspath(WETSIDE), os.path.join(tools, "wetside"))
        self.environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
        self.environment.update(PATH=tools + os.pathsep + os.environ["PATH"], HOME=folder, GIT_CONFIG_NOSYSTEM="1",
                                GIT_PAGER="cat", GIT_AUTHOR_NAME="x", GIT_AUTHOR_EMAIL="x@archive.invalid",
                                GIT_COMMITTER_NAME="x", GIT_COMMITTER_EMAIL="x@archive.invalid")
        self.run("init", "-q")
        self.write(".gitattributes", "*.wet diff=wetside\n")

    def run(self, *arguments):
        return subprocess.run(["git", *arguments], cwd=self.folder, env=self.environment, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, check=False)

    def write(self, name, text):
        path = os.path.join(self.folder, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)

    def commit(self):
        self.run("add", "-A")
        done = self.run("commit", "-q", "--no-gpg-sign", "-m", "x")
        if done.returncode != 0:
            sys.exit(done.stderr.decode())

    def says(self, name, wanted, *arguments, unwanted=()):
        done = self.run(*arguments)
        text = done.stdout.decode("utf-8", "replace")
        fits = done.returncode == 0 and all(line in text.splitlines() for line in wanted)
        check(fits and not any(word in text for word in unwanted), name,
              f"status {done.returncode}\n{text}{done.stderr.decode()}")
        return text


def configure(repository, kind):
    """The commands that docs/git.md shows under a heading."""
    section = re.search(rf"^## {kind}\n(.*?)(?=^## |\Z)", read("docs/git.md"), re.M | re.S)[1]
    commands = [line.strip().removeprefix("$ ") for line in section.splitlines() if line.startswith("    $ git config")]
    check(commands, f"docs/git.md shows how: {kind}")
    for command in commands:
        subprocess.run(["sh", "-c", command], cwd=repository.folder, env=repository.environment, check=True)


def external(folder):
    """Changed, added, removed, renamed, broken, without its used file, only reformatted."""
    git = Repository(folder)
    git.write("recipes/film.wet", FILM)
    git.write("recipes/baths.wet", BATHS)
    git.write("gone.wet", FILM.replace('use "baths.wet"\n', BATHS.replace("wetside 1\n", "")))
    git.commit()
    configure(git, "Changes as a process")
    git.write("recipes/film.wet", FILM.replace("8:00", "9:30"))
    git.says("a change", ["recipes/film.wet", "film", "  develop: 8:00 → 9:30; agitations 8 → 9; total +1:30; window unchanged"],
             "diff")
    git.commit()
    git.says("a change that is committed", ["  develop: 8:00 → 9:30; agitations 8 → 9; total +1:30; window unchanged"],
             "log", "-p", "--ext-diff", "-1")
    git.write("recipes/baths.wet", BATHS.replace("1+9", "1+14"))
    git.says("a file of baths", ["declarations", "  bath developer: dilution 1+9 → 1+14"], "diff")
    git.write("recipes/baths.wet", BATHS)
    git.write("recipes/film.wet", FILM.replace("8:00", "9:30").replace("  step", "    step"))
    git.says("reformatted", ["recipes/film.wet", "  nothing that changes a run"], "diff", unwanted=["develop"])
    git.write("recipes/film.wet", FILM.replace("8:00", "9:30").replace("in fixer", "in fixr"))
    git.says("broken", ["recipes/film.wet", "  the new text does not compile: line 8: no bath is called `fixr`",
                        "  `git diff --no-ext-diff` shows the lines"], "diff")
    git.write("recipes/film.wet", FILM.replace("8:00", "9:30"))
    git.write("recipes/-new.wet", git_free(FILM))
    os.remove(os.path.join(git.folder, "gone.wet"))
    git.run("add", "-A")
    git.says("added and removed, and a name that begins with a hyphen",
             ["recipes/-new.wet", "gone.wet", "film: new: 3 steps, bath time at least 33:00",
              "film: removed: 3 steps, bath time at least 33:00"], "diff", "--cached", "--no-renames")
    git.commit()
    git.run("mv", "recipes/film.wet", "recipes/slow film.wet")
    git.write("recipes/slow film.wet", FILM.replace("8:00", "9:45"))
    git.run("add", "-A")
    git.says("renamed and changed", ["  develop: 9:30 → 9:45; agitations 9 → 10; total +0:15; window unchanged"], "diff", "--cached", "-M30%")
    os.remove(os.path.join(git.folder, "recipes/baths.wet"))
    git.says("a used file that is missing is a remark",
             ["  the new text does not compile: line 2: cannot use `baths.wet`: there is no such file"], "diff", "HEAD",
             "--no-renames")
    conflict(git)


def git_free(text):
    """A recipe that uses no other file."""
    return text.replace('use "baths.wet"\n', BATHS.replace("wetside 1\n", ""))


def conflict(git):
    git.run("reset", "-q", "--hard")
    git.write("one.wet", git_free(FILM))
    git.commit()
    git.run("branch", "other")
    git.write("one.wet", git_free(FILM).replace("8:00", "9:00"))
    git.commit()
    git.run("checkout", "-q", "other")
    git.write("one.wet", git_free(FILM).replace("8:00", "7:00"))
    git.commit()
    git.run("merge", "-q", "-")
    git.says("a file that is not merged stops nothing", ["one.wet", "  not merged yet"], "diff", "--cached", "one.wet")


def textconv(folder):
    git = Repository(folder)
    git.write("film.wet", FILM)
    git.write("baths.wet", BATHS)
    git.commit()
    configure(git, "Changes line by line")
    git.write("film.wet", FILM.replace("8:00", "9:30").replace("  step fix", "    step   fix"))
    text = git.says("textconv", ["-    time 8:00", "+    time 9:30"], "diff")
    changed = [line for line in text.splitlines() if re.match(r"[+-](?![+-])", line)]
    check(changed == ["-    time 8:00", "+    time 9:30"], "textconv: only what the run depends on", changed)
    git.write("film.wet", FILM.replace("in fixer", "in fixr"))
    git.says("textconv of a broken file shows it as it is written",
             ["+This recipe has errors; it is shown as it is written.",
              "+  step fix in fixr at 20 ± 2 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }"], "diff")
    git.write("film.wet", FILM.replace("8:00", "9:30"))
    git.commit()
    git.says("textconv in a log", ["-    time 8:00", "+    time 9:30"], "log", "-p", "-1")


def main():
    if not shutil.which("git"):
        skip("git", "no git")
        return
    with tempfile.TemporaryDirectory() as folder:
        external(os.path.join(folder, "external"))
        textconv(os.path.join(folder, "textconv"))
    end()


if __name__ == "__main__":
    main()
