#!/usr/bin/env python3
"""Disks and pipes as they are met with: a small file system that is full, one that is read-only, a link to another file
system, a pipe whose reader goes away, a standard output that is closed or full, targets that are no files. Where nothing
may be mounted, the injector stands for the disk, and the names of the tests say so."""
# builds: plain

import errno
import os
import shlex
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import case, cases, prepare, write  # noqa: E402
from injector import inject, own_lines  # noqa: E402
from harness import WETSIDE, check, end, run  # noqa: E402

SMALL = 64 * 1024  # bytes of the small file system; a live page is larger


def namespace():
    """How a shell gets a mount table of its own; nothing where it may not."""
    for words in (["unshare", "-m"], ["unshare", "-r", "-m"]):
        try:
            trial = subprocess.run([*words, "sh", "-c", "mount -t tmpfs none /mnt"], stdout=subprocess.DEVNULL,
                                   stderr=subprocess.DEVNULL, check=False)
        except FileNotFoundError:
            continue
        if trial.returncode == 0:
            return words
    return []


def on_disk(alone, folder, words, before="", after=""):
    """Runs the program beside a small file system at `disk`: what `before` says is done to it first. Returns its status, what
    it said, and the files of the disk with their sizes."""
    script = f"""mount -t tmpfs -o size={SMALL} none disk && cd disk && printf 'old\\n' >out && cd .. || exit 99
{before}
{shlex.join([WETSIDE, *words])} 2>said; status=$?
{after}
cd disk && for file in out .wetside* [a-z]*; do [ -e "$file" ] && wc -c "$file"; done; exit $status"""
    done = subprocess.run([*alone, "sh", "-c", script], cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, check=False)
    with open(os.path.join(folder, "said"), encoding="utf-8") as file:
        return done.returncode, file.read(), sorted(set(done.stdout.decode().splitlines()))


def judge_disks(alone, folder):
    full = os.strerror(errno.ENOSPC)
    closed = os.strerror(errno.EROFS)
    read_only = "mount -o remount,ro disk"
    filled = "dd if=/dev/zero of=disk/filled bs=1k count=60 2>/dev/null; dd if=/dev/zero of=disk/more bs=1 count=9000 2>/dev/null"
    old = ["4 out"]
    rows = [("a product too large for the disk", ["live", "one.wet", "-o", "disk/out"], "", "disk/out", full, old),
            ("a stream too large for the disk", ["cues", "--to=wav", "one.wet", "-o", "disk/out"], "", "disk/out", full, old),
            ("a new file on a full disk", ["sheet", "one.wet", "-o", "disk/new"], filled, "disk/new", full, None),
            ("a dependency file on a full disk", ["cues", "day.wet", "--load=1", "-o", "out", "-MF", "disk/d"], filled, "disk/d",
             full, None),
            ("a read-only disk", ["cues", "one.wet", "-o", "disk/out"], read_only, "disk/out", closed, old),
            ("a new file on a read-only disk", ["cues", "one.wet", "-o", "disk/new"], read_only, "disk/new", closed, old),
            ("a dependency file on a read-only disk", ["cues", "one.wet", "-MD", "-MF", "disk/d", "-o", "out"], read_only,
             "disk/d", closed, old),
            ("fmt on a read-only disk", ["fmt", "disk/untidy"], f"cp untidy disk; {read_only}", "disk/untidy", closed,
             [*old, f"{os.stat(os.path.join(folder, 'untidy')).st_size} untidy"])]
    for name, words, before, target, reason, wanted in rows:
        status, said, files = on_disk(alone, folder, words, before)
        whole = files == wanted if wanted else not [line for line in files if ".wetside" in line or " new" in line]
        check(status == 2 and own_lines(said) == [f"wetside: cannot write `{target}`: {reason}"] and whole and
              not os.path.exists(os.path.join(folder, "out")), name, (status, said, files))
    os.symlink("disk/out", os.path.join(folder, "link"))
    status, said, files = on_disk(alone, folder, ["cues", "one.wet", "-o", "link"], "", "cmp disk/out link")
    check(status == 0 and not said and len(files) == 1 and files != old and os.path.islink(os.path.join(folder, "link")),
          "a link to a file of another file system", (status, said, files))


def judge_without_disks(folder, scratch):
    one = case("", ["cues", "one.wet", "-o", "out"], "out", "old")
    for call, number in (("write", errno.ENOSPC), ("create", errno.EROFS)):
        runs = inject(one, folder, scratch, call, number)
        check(len(runs) > 1 and all(item.status == 2 for item in runs[:-1]), f"{os.strerror(number)} (injected)", runs)


def judge_streams(folder):
    """Every command and output into a full and into a closed standard output, and into a pipe that is closed early."""
    for one in cases():
        if one.target or one.name in ("wrong usage", "check") or one.name.startswith("check, of errors"):
            continue
        for name, redirection in (("full", ">/dev/full"), ("closed", ">&-")):
            given = os.path.join(folder, one.stdin) if one.stdin else "/dev/null"
            done = subprocess.run(["sh", "-c", f'"$@" {redirection} <{given}', "sh", WETSIDE, *one.words], cwd=folder,
                                  stderr=subprocess.PIPE, check=False)
            said = own_lines(done.stderr.decode())
            check(done.returncode == 2 and len(said) == 1 and said[0].startswith("wetside: cannot write to standard output"),
                  f"{one.name}: a {name} standard output", (done.returncode, done.stderr))
    for words in (["cues", "--to=wav", "one.wet"], ["live", "one.wet"]):
        with subprocess.Popen([WETSIDE, *words], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
            process.stdout.read(100)
            process.stdout.close()
            said = process.stderr.read().decode()
        check(process.returncode == 2 and said == f"wetside: cannot write to standard output: {os.strerror(errno.EPIPE)}\n",
              f"{words[0]}: a reader that goes away", (process.returncode, said))


def judge_slow_pipe(folder):
    """A pipe that does not block, whose reader is slow."""
    wanted = run("cues", "--to=wav", "one.wet", cwd=folder).stdout
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    with subprocess.Popen([WETSIDE, "cues", "--to=wav", "one.wet"], cwd=folder, stdout=writer) as process:
        os.close(writer)
        with os.fdopen(reader, "rb") as pipe:
            found = pipe.read()
    check(process.returncode == 0 and found == wanted, "a pipe that does not block gets every byte", process.returncode)


def judge_targets(folder):
    """Targets that are no files, for products, dependency files and streams."""
    os.mkdir(os.path.join(folder, "folder"))
    for name, target, reason in (("a folder", "folder", errno.EISDIR), ("a folder that is not there", "none/out", errno.ENOENT),
                                 ("a file as a folder", "one.wet/out", errno.ENOTDIR),
                                 ("a full device", "/dev/full", errno.ENOSPC)):
        for what, words in (("a product", ["cues", "one.wet", "-o", target]),
                            ("a stream", ["cues", "--to=wav", "one.wet", "-o", target]),
                            ("a dependency file", ["cues", "one.wet", "-o", "made", "-MF", target])):
            before = sorted(os.listdir(folder))
            done = run(*words, cwd=folder)
            check(done.returncode == 2 and sorted(os.listdir(folder)) == before and
                  own_lines(done.stderr.decode())[:1] == [f"wetside: cannot write `{target}`: {os.strerror(reason)}"],
                  f"{what} to {name}", (done.returncode, done.stderr, os.listdir(folder)))


def main():
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as scratch:
        prepare(folder)
        os.mkdir(os.path.join(folder, "disk"))
        alone = namespace()
        if alone:
            print(f"a tmpfs of {SMALL} bytes, by {' '.join(alone)}")
            judge_disks(alone, folder)
        else:
            judge_without_disks(folder, scratch)
        write(folder, "said", "")
        judge_streams(folder)
        judge_slow_pipe(folder)
        judge_targets(folder)
    end()


if __name__ == "__main__":
    main()
