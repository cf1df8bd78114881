#!/usr/bin/env python3
"""Files that are no recipe to read from: folders, devices, pipes, sockets, links in a circle, sparse and unreadable files, given
as a used file, as rolls, on the command line and as a log; files that use each other; and every limit of
`support/limits.def` on both of its sides. None blocks, each gets one message at its place."""
# timeout: 600

import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import DAY, ONE, frame, write  # noqa: E402
from harness import ROOT, WETSIDE, check, end, read, run  # noqa: E402

NOBODY = 65534
HUGE = 1024**3
SANITIZED = os.environ.get("WETSIDE_BUILD") == "asan"


def make_odd_files(folder):
    """Names, with what is said of each."""
    os.mkdir(os.path.join(folder, "folder"))
    os.mkfifo(os.path.join(folder, "pipe"))
    with socket.socket(socket.AF_UNIX) as listener:  # a path may be too long for one: it is made where it is short
        here = os.getcwd()
        os.chdir(folder)
        listener.bind("socket")
        os.chdir(here)
    with open(os.path.join(folder, "sparse"), "wb") as file:
        file.truncate(HUGE)
    os.symlink("circle", os.path.join(folder, "circle"))
    os.symlink("nowhere", os.path.join(folder, "dangling"))
    found = {"folder": "it is a folder", "pipe": "it is a pipe; give - to read standard input", "socket": "it is a socket",
             "sparse": "it is larger than 256 MiB", "circle": "its symbolic links lead in a circle",
             "dangling": "there is no such file", "none": "there is no such file", "folder/": "it is a folder",
             "one.wet/": "there is no such file", "n" * 300: "its name is too long"}
    try:
        os.mknod(os.path.join(folder, "zero"), 0o020666, os.makedev(1, 5))
        found["zero"] = "it is a device"
    except PermissionError:
        print("no device can be made here: /dev/zero stands for one")
    return found


def judge_used(folder, odd):
    """As a used file and as a file of rolls: a finding at its place, with the excerpt."""
    for name, said in odd.items():
        for what, text, line in (("used", f'wetside 1\nuse "{name}"\n', 2),
                                 ("rolls", DAY.replace("rolls.csv", name), 8)):
            write(folder, "user.wet", text)
            done = run("check", "user.wet", cwd=folder, timeout=20)
            column = text.splitlines()[line - 1].index('"') + 1
            lines = done.stderr.decode().splitlines()
            check(done.returncode == 1 and lines[0] ==
                  f"user.wet:{line}:{column}: error: cannot use `{name}`: {said} [unreadable-file]" and
                  re.fullmatch(r" +\| +\^~+", lines[2]) and lines[-1] == "wetside: 1 error",
                  f"{what}: {name[:20]}", (done.returncode, lines))


def judge_given(folder, odd):
    """On the command line, also as a log, as an old recipe to compare with, as a file to format."""
    for name, said in {**odd, "/dev/zero": "it is a device", "": "there is no such file"}.items():
        for words in (["check", name], ["cues", name, "-o", "out"], ["review", name], ["fmt", name], ["diff", name, "one.wet"],
                      ["plan", name], ["check", "--diagnostics=json", name]):
            done = run(*words, cwd=folder, timeout=20)
            wanted = f"wetside: cannot read `{name}`: {said}\n"
            check(done.returncode == 2 and done.stderr.decode() == wanted and not done.stdout and
                  not os.path.exists(os.path.join(folder, "out")), f"{words[0]} {name[:20] or 'no name'}",
                  (done.returncode, done.stderr))


def judge_outside(folder):
    """A path that leads out of the folder, whether by itself or through a link; a fifo that stands there is not opened."""
    outside = os.path.join(folder, "outside")
    inside = os.path.join(folder, "inside")
    os.mkdir(outside)
    os.mkdir(inside)
    write(outside, "there.wet", ONE)
    os.mkfifo(os.path.join(outside, "pipe"))
    os.symlink("../outside/there.wet", os.path.join(inside, "link.wet"))
    os.symlink("../outside/pipe", os.path.join(inside, "pipe-link.wet"))
    os.symlink("/dev/zero", os.path.join(inside, "zero-link.wet"))
    bounds = "it lies outside the folders that may be read"
    for name, said in (("../outside/there.wet", bounds), ("link.wet", bounds),
                       ("pipe-link.wet", "it is a pipe; give - to read standard input"), ("zero-link.wet", "it is a device"),
                       (os.path.join(outside, "there.wet"), "a path here is relative"),
                       ("../outside/../outside/there.wet", bounds)):
        write(inside, "user.wet", f'wetside 1\nuse "{name}"\n')
        done = run("check", "user.wet", cwd=inside, timeout=20)
        check(done.returncode == 1 and f"cannot use `{name}`: {said} [unreadable-file]" in done.stderr.decode(),
              f"outside: {name.replace(folder, '')}", done.stderr.decode())


def judge_circles(folder):
    for names in (["self.wet"], ["a.wet", "b.wet"], ["a.wet", "b.wet", "c.wet"]):
        for name, used in zip(names, names[1:] + names[:1]):
            write(folder, name, f'wetside 1\nuse "{used}"\n')
        done = run("check", names[0], cwd=folder, timeout=20)
        said = done.stderr.decode()
        check(done.returncode == 1 and said.startswith(f"{names[-1]}:2:5: error: this file is already being read [use-cycle]") and
              said.endswith("wetside: 1 error\n") and said.count("[use-cycle]") == 1, f"a circle of {len(names)}", said)


def judge_unreadable(folder):
    """As somebody whom the rights stop."""
    for name, words, wanted, status in (
            ("a recipe", ["check", "closed.wet"], "wetside: cannot read `closed.wet`: it may not be read\n", 2),
            ("a used file", ["check", "uses.wet"], "uses.wet:2:5: error: cannot use `closed.wet`: it may not be read", 1),
            ("a log", ["review", "closed.wet"], "wetside: cannot read `closed.wet`: it may not be read\n", 2)):
        write(folder, "closed.wet", ONE)
        write(folder, "uses.wet", 'wetside 1\nuse "closed.wet"\n')
        os.chmod(os.path.join(folder, "closed.wet"), 0)
        os.chmod(folder, 0o755)
        program = open(WETSIDE, "rb")  # noqa: SIM115: it is reached by its number, whatever folder it lies in
        others = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.getuid() == 0 else {}
        with program:
            done = subprocess.run([f"/proc/self/fd/{program.fileno()}", *words], cwd=folder, stderr=subprocess.PIPE,
                                  pass_fds=[program.fileno()], check=False, **others)
        check(done.returncode == status and done.stderr.decode().startswith(wanted), f"unreadable: {name}",
              (done.returncode, done.stderr))


# ---- limits ---------------------------------------------------------------------------------------------------------

def judge(folder, name, text, words, status, said, counts=True):
    """A recipe on one side of a limit: no error where `said` is none, else one whose text this is, and no more."""
    write(folder, "limit.wet", text)
    done = run(*words, "limit.wet", cwd=folder, timeout=120)
    errors = re.findall(r"^\S+:\d+:\d+: error: .*$", done.stderr.decode(), re.MULTILINE)
    fits = not errors if not said else len(errors) == 1 and said in errors[0] if counts else said in done.stderr.decode()
    check(done.returncode == status and fits, name, (done.returncode, done.stderr[:800]))


def chain(count):
    """Processes that vary each other in a row."""
    return ONE + "".join(f"process p{i} from {'one' if i == 1 else f'p{i - 1}'} {{ push 1 }}\n" for i in range(1, count + 1))


def judge_limits(folder):
    """Just within and just beyond."""
    agitated = ONE.replace("at least 0:30 {", "%s {").replace("first 15 s", "0.05 s every 1 s")
    allowed = '  allow agitation-overlaps "test"\n'
    judge(folder, "100,001 agitations of a step", agitated.replace("%s", "27:46:41") + allowed, ["check"], 1,
          "would be agitated more than 100,000 times", counts=False)
    judge(folder, "99,000 agitations of a step", agitated.replace("%s", "27:30:00"), ["check"], 0, "")
    judge(folder, "200 variants in a row", chain(200), ["check", "--process=p200"], 0, "")
    judge(folder, "201 variants in a row", chain(201), ["check", "--process=p201"], 1,
          "more than 200 processes vary each other in a row")
    for letters in (100, 1000000):
        name = "a" * letters
        write(folder, "limit.wet", f'wetside 1\nuse "{name}"\ntank {name} {{ holds 1 kg }}\ntank x {{ holds {"1" * letters} L }}\n')
        done = run("check", "limit.wet", cwd=folder, timeout=60)
        longest = max(len(line) for line in done.stderr.splitlines())
        check(done.returncode == 1 and longest < 2200 and (b" \xe2\x80\xa6 " in done.stderr) == (letters > 100),
              f"a name and a figure of {letters} characters: no line is longer than its limit", longest)
    wrong = "wetside 1\n" + "@\n" * 100010
    judge(folder, "100,010 findings: all are counted", wrong, ["check"], 1, "wetside: 100010 errors; 20 of 100010 shown",
          counts=False)
    done = run("check", "--diagnostics=json", "limit.wet", cwd=folder, timeout=120)
    check(done.returncode == 1 and done.stdout.count(b"\n") == 100000 and
          done.stderr == b"wetside: only the first 100,000 findings of a file are kept\n", "100,010 findings: 100,000 are kept",
          (done.stdout.count(b"\n"), done.stderr))
    nested = "wetside 1\n" + "tank a {" * 100000
    write(folder, "limit.wet", nested)
    done = run("check", "limit.wet", cwd=folder, timeout=60)
    check(done.returncode == 1 and len(done.stderr) < 3000, "100,000 braces in each other", (done.returncode, len(done.stderr)))


def judge_files(folder):
    """Just as many used files as may be, and one more."""
    for count, status in ((9999, 0), (10000, 1)):
        place = os.path.join(folder, f"many-{count}")
        os.mkdir(place)
        for number in range(count):
            write(place, f"f{number}.wet", "wetside 1\n")
        write(place, "main.wet", "wetside 1\n" + "".join(f'use "f{number}.wet"\n' for number in range(count)))
        done = run("check", "main.wet", cwd=place, timeout=120)
        said = done.stderr.decode()
        check(done.returncode == status and (f"main.wet:{count + 1}:5: error: cannot use `f{count - 1}.wet`: more than 10,000 "
                                             "files are used [unreadable-file]" in said) == (status == 1) and
              said.count(": error: ") == status, f"{count} used files", said[:500])
        shutil.rmtree(place)


def judge_stream(folder):
    """Standard input without an end is given up at the limit; a message without end too."""
    with open("/dev/zero", "rb") as endless:
        done = subprocess.run([WETSIDE, "check", "-"], stdin=endless, stderr=subprocess.PIPE, cwd=folder, check=False, timeout=60)
    check(done.returncode == 2 and done.stderr == b"wetside: cannot read `-`: it is larger than 256 MiB\n", "an endless recipe",
          done.stderr)
    talk = "Content-Length: 536870913\r\n\r\n" + frame(id=1, method="shutdown")
    done = run("lsp", stdin=talk.encode(), cwd=folder)
    check(b'"code":-32002' in done.stdout.replace(b" ", b""), "a message larger than may be is passed over", done.stdout)


def judge_documents():
    """The man page names every limit, as docs/language.md does."""
    rows = re.findall(r'^LIMIT\(\w+, \d+, "([^"]+)", "([^"]+)"', read("src/support/limits.def"), re.MULTILINE)
    with open(os.path.join(ROOT, "docs/man/wetside.5"), encoding="utf-8") as file:
        page = file.read()
    section = re.search(r"^\.Sh LIMITS\n(.*?)^\.Sh", page, re.MULTILINE | re.DOTALL)
    found = re.findall(r"^\.It (.*)\n(.*)$", section.group(1), re.MULTILINE) if section else []
    check([(words, of) for words, of in found] == [(words, of) for words, of in rows] and len(rows) > 5,
          "the man page has the limits as they are", set(rows) ^ set(found))


def main():
    folder = tempfile.mkdtemp(dir=os.environ.get("TMPDIR"), prefix="i")
    write(folder, "one.wet", ONE)
    odd = make_odd_files(folder)
    judge_used(folder, odd)
    judge_given(folder, odd)
    judge_outside(folder)
    judge_circles(folder)
    judge_unreadable(folder)
    if not SANITIZED:  # large files take long there
        judge_limits(folder)
        judge_files(folder)
        judge_stream(folder)
    judge_documents()
    shutil.rmtree(folder)
    end()


if __name__ == "__main__":
    main()
