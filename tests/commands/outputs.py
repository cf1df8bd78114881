#!/usr/bin/env python3
"""A product appears whole or not at all: files of any kind as --output, folders that may not be written to, a full
disk, a reader that went away, a standard output that is closed, and recipes with errors."""

import os
import stat
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import WETSIDE, check, end, run  # noqa: E402
from options import RECIPE, WRONG  # noqa: E402

NOBODY = 65534


def write(path, text, mode=0o644):
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    os.chmod(path, mode)


def read(path):
    with open(path, "rb") as file:
        return file.read()


def judge(name, folder, words, status, message=b"", left=None):
    """Status and message; afterwards the folder holds exactly `left` beside the recipes, and no temporary file."""
    before = sorted(os.listdir(folder))
    done = run("cues", *words, cwd=folder)
    after = sorted(os.listdir(folder))
    wanted = before if left is None else sorted({*before, *left})
    check(done.returncode == status and message in done.stderr and after == wanted, name,
          f"status {done.returncode}, files {after}\n{done.stderr.decode()}")


def check_files(folder, product):
    judge("a new file", folder, ["one.wet", "-o", "new"], 0, left=["new"])
    check(read(f"{folder}/new") == product, "a new file holds the product")
    write(f"{folder}/old", "old\n", 0o640)
    judge("an old file", folder, ["one.wet", "-o", "old"], 0)
    check(read(f"{folder}/old") == product, "an old file is replaced")
    check(stat.S_IMODE(os.stat(f"{folder}/old").st_mode) == 0o640, "an old file keeps its mode")
    os.symlink("behind", f"{folder}/link")
    judge("a link to a file that is not there yet", folder, ["one.wet", "-o", "link"], 0, left=["behind"])
    check(os.path.islink(f"{folder}/link") and read(f"{folder}/behind") == product, "a link stays a link")
    os.symlink("loop", f"{folder}/loop")
    judge("a link to itself", folder, ["one.wet", "-o", "loop"], 2, b"cannot write `loop`")
    judge("a folder", folder, ["one.wet", "-o", "."], 2, b"cannot write `.`")
    judge("a folder that is not there", folder, ["one.wet", "-o", "none/new"], 2, b"cannot write `none/new`")
    judge("a file with a slash behind it", folder, ["one.wet", "-o", "old/"], 2, b"cannot write `old/`")
    judge("a name that is too long", folder, ["one.wet", "-o", "n" * 300], 2, b"cannot write `nnn")
    done = run("cues", "one.wet", "-o", "-", cwd=folder)
    check(done.stdout == product and not os.path.exists(f"{folder}/-"), "- is standard output")


def check_refusals(folder):
    judge("errors leave no file", folder, ["wrong.wet", "-o", "none"], 1)
    write(f"{folder}/kept", "old\n")
    judge("errors leave an old file, and say so", folder, ["wrong.wet", "-o", "kept"], 1, b"is still the OLD cues")
    check(read(f"{folder}/kept") == b"old\n", "errors leave an old file as it was")
    recipe = read(f"{folder}/one.wet")
    judge("the recipe is not overwritten", folder, ["one.wet", "-o", "one.wet"], 2, b"names the recipe itself")
    judge("nor by another path", folder, ["one.wet", "-o", "../" + os.path.basename(folder) + "/one.wet"], 2,
          b"names the recipe itself")
    os.symlink("one.wet", f"{folder}/alias")
    judge("nor through a link", folder, ["one.wet", "-o", "alias"], 2, b"names the recipe itself")
    judge("nor a file that it uses", folder, ["user.wet", "-o", "one.wet"], 2, b"names the recipe itself")
    for name in ("one.wet", "alias", "./one.wet"):
        judge(f"nor by a dependency file called {name}", folder, ["user.wet", "-o", "none", "-MD", "-MF", name], 2,
              b"--depfile names the recipe itself")
    judge("nor the product", folder, ["one.wet", "-o", "kept", "-MD", "-MF", "kept"], 2, b"or the product")
    done = run("check", "user.wet", "-MD", "-MF", "one.wet", "-MT", "judged", cwd=folder)
    check(done.returncode == 2 and b"--depfile names" in done.stderr, "nor when it is only checked", done.stderr.decode())
    check(read(f"{folder}/kept") == b"old\n", "the old product is as it was")
    check(read(f"{folder}/one.wet") == recipe, "the recipe is as it was")


def check_devices(folder):
    judge("a full disk", folder, ["one.wet", "-o", "/dev/full"], 2, b"cannot write `/dev/full`")
    judge("a device", folder, ["one.wet", "-o", "/dev/null"], 0)
    with open("/dev/full", "wb") as full:
        done = subprocess.run([WETSIDE, "cues", "one.wet"], cwd=folder, stdout=full, stderr=subprocess.PIPE,
                              check=False)
    check(done.returncode == 2 and b"cannot write to standard output" in done.stderr, "a full standard output",
          done.stderr.decode())
    for words in (["cues", "one.wet"], ["explain", "carry-over"], ["--help"], ["--version"], ["explain", "--list"]):
        done = subprocess.run(["sh", "-c", '"$@" >&-', "sh", WETSIDE, *words], cwd=folder, stderr=subprocess.PIPE,
                              check=False)
        check(done.returncode == 2 and b"standard output" in done.stderr,
              f"a closed standard output: {' '.join(words)}",
              f"status {done.returncode}\n{done.stderr.decode()}")
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run([WETSIDE, "cues", "one.wet"], cwd=folder, stdout=writer, stderr=subprocess.PIPE, check=False)
    os.close(writer)
    check(done.returncode == 2 and b"cannot write to standard output" in done.stderr, "a reader that went away",
          f"status {done.returncode}\n{done.stderr.decode()}")


def check_closed(folder, product):
    """With standard streams closed, no message ends up in the product."""
    for closing in ("2>&-", "<&- 2>&-", "<&- >&- 2>&-"):
        for recipe, status in (("one.wet", 0), ("wrong.wet", 1)):
            path = f"{folder}/closed"
            done = subprocess.run(["sh", "-c", f'"$@" {closing}', "sh", WETSIDE, "cues", recipe, "-o", "closed"],
                                  cwd=folder, check=False)
            made = read(path) if os.path.exists(path) else None
            check(done.returncode == status and made == (product if status == 0 else None), f"{recipe} with {closing}",
                  f"status {done.returncode}")
            if made is not None:
                os.unlink(path)


def run_as_nobody(folder, *words):
    """Runs the program as somebody who is not root; root reaches it by an open file, since its folder may be closed to
    others."""
    if os.getuid() != 0:
        return subprocess.run([WETSIDE, *words], cwd=folder, stderr=subprocess.PIPE, check=False)
    with open(WETSIDE, "rb") as program:
        number = program.fileno()
        return subprocess.run([f"/proc/self/fd/{number}", *words], cwd=folder, stderr=subprocess.PIPE, check=False,
                              pass_fds=[number], user=NOBODY, group=NOBODY, extra_groups=[])


def check_rights(folder):
    """Folders and files that may not be written to."""
    closed = os.path.join(folder, "closed-folder")
    opened = os.path.join(folder, "open-folder")
    os.mkdir(closed)
    os.mkdir(opened)
    os.chmod(folder, 0o755)
    write(f"{closed}/old", "old\n", 0o666)
    write(f"{opened}/old", "old\n", 0o444)
    os.chmod(closed, 0o555)
    os.chmod(opened, 0o777)
    for target in ("closed-folder/new", "closed-folder/old", "open-folder/old"):
        done = run_as_nobody(folder, "cues", "one.wet", "-o", target)
        check(done.returncode == 2 and f"cannot write `{target}`".encode() in done.stderr, f"{target} is refused",
              f"status {done.returncode}\n{done.stderr.decode()}")
    check(read(f"{closed}/old") == read(f"{opened}/old") == b"old\n" and sorted(os.listdir(closed)) == ["old"] and
          sorted(os.listdir(opened)) == ["old"], "what may not be written to is as it was")
    os.chmod(closed, 0o755)


def main():
    with tempfile.TemporaryDirectory() as folder:
        write(f"{folder}/one.wet", RECIPE)
        write(f"{folder}/wrong.wet", WRONG)
        write(f"{folder}/user.wet", "wetside 1\nuse \"one.wet\"\nprocess three from one { push 1 }\n")
        product = run("cues", "one.wet", cwd=folder).stdout
        check(product.startswith(b"one\n"), "there is a product")
        check_files(folder, product)
        check_refusals(folder)
        check_devices(folder)
        check_closed(folder, product)
        check_rights(folder)
    end()


if __name__ == "__main__":
    main()
