#!/usr/bin/env python3
# lasts: 15
"""Hostile words on the command line and in the environment: names of files, options, processes, words to explain, what is to be
completed. Nothing raw reaches the terminal, nothing is made but what was asked for, and the exit status is one of the three."""

import os
import pty
import re
import select
import subprocess
import tempfile

import outputs
import slots
import strings
from harness import WETSIDE, check, end, run

IS_SANITIZED = "/asan/" in WETSIDE
RECIPE = "wetside 1\n"
# Words of a command line: those of the list that a program can be given, and bytes that are no text.
WORDS = {name: text.encode("utf-8") for name, text in strings.STRINGS.items() if name not in ("100 kB", "deep")}
WORDS.update({f"bytes: {name}": piece for name, piece in strings.REFUSED.items() if b"\0" not in piece})
WORDS["a very long word"] = b"w" * 100_000
MOST = 255  # bytes that a file's name may have
COMMANDS = [row[0] for row in slots.definitions.rows("commands/commands.def", "COMMAND")]
OPTIONS = [(row[1], row[3]) for row in slots.definitions.rows("commands/options.def", "OPTION")]


def is_harmless(data):
    """Valid UTF-8 for a terminal, and nothing raw or hidden in it."""
    try:
        return not strings.HIDDEN.search(data.decode("utf-8").replace("\n", ""))
    except UnicodeDecodeError:
        return False


def judge(name, folder, calls, statuses=(0, 1, 2)):
    """Calls (a word's name, arguments): each ends well, says nothing raw, and leaves the folder as it was."""
    before = sorted(os.listdir(os.fsencode(folder)))
    wrong, count = [], 0
    for what, arguments in calls:
        done = run(*arguments, cwd=folder)
        count += 1
        fine = (*statuses, 0) if b"--help" in arguments or b"-h" in arguments else statuses
        said = done.stdout.replace(b"\t", b" ")  # parts a word from what it is, for a shell
        if done.returncode not in fine or not is_harmless(done.stderr) or not is_harmless(said):
            wrong.append(f"{what}: status {done.returncode}: {(done.stderr + done.stdout)[:300]!r}")
        if sorted(os.listdir(os.fsencode(folder))) != before:
            wrong.append(f"{what}: left {set(os.listdir(os.fsencode(folder))) - set(before)}")
            before = sorted(os.listdir(os.fsencode(folder)))
    check(not wrong, f"{name} ({count})", "\n".join(wrong[:6]))


def some(step):
    """The words, or some of them where a run is dear."""
    return list(WORDS.items())[::step * 5 if IS_SANITIZED else step]


def judge_commands(folder):
    judge("no command", folder, [(name, [word]) for name, word in some(1)], (2,))
    judge("words to explain", folder, [(name, ["explain", "--", word]) for name, word in some(1)])
    judge("words to complete", folder, [(name, ["complete", "--", *words, word]) for name, word in some(1)
                                        for words in ([], ["sheet"], ["sheet", "--to"])])
    judge("names of a new recipe", folder, [(name, ["new", "-o", "-", "--", word]) for name, word in some(1)
                                            if not re.fullmatch(r"[\w\u0301]+", word.decode("utf-8", "replace"))], (2,))
    judge("files that are not there", folder, [(name, [command, "--", word, *([word] if command == "diff" else [])])
                                               for name, word in some(3) for command in COMMANDS
                                               if command not in ("new", "lsp", "explain", "complete")], (1, 2))


def judge_options(folder):
    judge("unknown options", folder, [(name, [command, b"--" + word, "plain.wet"]) for name, word in some(4)
                                      for command in COMMANDS if command != "lsp"])
    taking = [option for option, argument in OPTIONS if argument and option not in ("output", "depfile")]
    judge("arguments of options", folder, [(name, ["cues", b"--" + option.encode() + b"=" + word, "main.wet"])
                                           for name, word in some(4) for option in taking])
    judge("parts of arguments", folder, [(name, ["cues", shape.replace(b"@", word), "main.wet"]) for name, word in some(2) for shape in
                                         (b"--at=@=20C", b"--at=develop=@", b"--done=@=4", b"--done=soup=@")])


def judge_files(root):
    """Recipes, rolls files and products of any name that a file system takes."""
    folder = os.path.join(root, "files")
    slots.write(folder, slots.tame_texts(), slots.tame_names())
    with open(os.path.join(folder, "main.wet"), "rb") as file:
        recipe = file.read()
    wrong, count = [], 0
    for name, word in some(1):
        word = word.replace(b"/", b"_")[:MOST - 20]
        if word in (b".", b"..", b""):
            continue
        path = os.path.join(os.fsencode(folder), word)
        with open(path, "wb") as file:
            file.write(recipe)
        product, depfile = word + b".out", word + b".d"
        may_depend = not re.search(rb"[\r\n]", word)  # make has no way to write that
        depends = ["-MD", "-MF" + os.fsdecode(depfile)] if may_depend else []
        done = run("sheet", "--to", "text", b"-o" + product, *depends, "--", word, cwd=folder)
        if not may_depend and run("sheet", "-o", "x", "-MD", "--", word, cwd=folder).returncode != 2:
            wrong.append(f"{name}: a line end in a dependency file")
        spoilt = run("check", "--", word, cwd=folder, stdin=b"")
        with open(path, "wb") as file:
            file.write(recipe.replace(b"8:00", b"8 kg").replace(b"4:00 {", b"4 kg {"))
        refused = [run("check", "--max-errors", "2", *how, "--", word, cwd=folder)
                   for how in ([], ["--diagnostics", "json"], ["--diagnostics", "sarif"], ["--fix", "--diff"])]
        os.remove(path)
        left = {each for each in os.listdir(os.fsencode(folder))}
        count += 1
        for each in (done, spoilt, *refused):
            if not is_harmless(each.stderr) or not is_harmless(each.stdout):
                wrong.append(f"{name}: something raw: {(each.stderr + each.stdout)[:300]!r}")
        if done.returncode != 0 or not {product, *([depfile] if may_depend else [])} <= left:
            wrong.append(f"{name}: {done.returncode}, {done.stderr[:300]!r}, {left}")
        if [each.returncode for each in refused[:3]] != [1, 1, 1]:
            wrong.append(f"{name}: {[each.returncode for each in refused]}")
        try:
            for line in refused[1].stdout.decode("utf-8").splitlines():
                outputs.strict_json(line)
            outputs.strict_json(refused[2].stdout.decode("utf-8"))
        except ValueError as problem:
            wrong.append(f"{name}: {problem}")
        for each in left - {b"main.wet"}:
            if each in (product, depfile):
                os.remove(os.path.join(os.fsencode(folder), each))
        strange = {each for each in os.listdir(os.fsencode(folder)) if not re.fullmatch(rb"main\.wet|Qz\d+zq\.(?:wet|csv)", each)}
        if strange:
            wrong.append(f"{name}: left {strange}")
    check(not wrong, f"names of files, in messages, as JSON and SARIF, of products and dependency files ({count})", "\n".join(wrong[:6]))


def judge_make(root):
    """Make and ninja read what a dependency file names, whatever that is: the name or nothing else."""
    names = [text for name, text in strings.STRINGS.items() if "\n" not in text and "/" not in text and "\x00" not in text and
             not re.search(r"[\x00-\x1f\x7f]", text) and 0 < len(text.encode()) < 150]
    wrong, count = [], 0
    for number, name in enumerate(names[::5] if IS_SANITIZED else names):
        folder = os.path.join(root, f"make-{number}")
        os.mkdir(folder)
        used = name + ".wet"
        with open(os.path.join(folder, used), "w", encoding="utf-8") as file:
            file.write("wetside 1\n")
        with open(os.path.join(folder, "main.wet"), "w", encoding="utf-8") as file:
            file.write(RECIPE + f"use {strings.quoted(used)}\n" + slots.harness.run("new", "-o", "-", "trial").stdout.decode()
                       .replace("wetside 1\n", ""))
        done = run("sheet", "-o", "sheet.html", "-MD", "-MP", "main.wet", cwd=folder)
        count += 1
        if done.returncode != 0:
            wrong.append(f"{name!r}: {done.stderr[:200]!r}")
            continue
        with open(os.path.join(folder, "Makefile"), "w", encoding="utf-8") as file:
            file.write("all: sheet.html\nsheet.html:\n\t@:\n-include sheet.html.d\n")
        made = subprocess.run(["make", "-n", "-r", "-R"], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
        left = set(os.listdir(folder)) - {used, "main.wet", "sheet.html", "sheet.html.d", "Makefile"}
        if left or b"pwned" in made.stdout.replace(used.encode(), b""):
            wrong.append(f"{name!r}: left {left}, make says {made.stdout[:200]!r}")
    check(not wrong, f"names of used files in dependency files start nothing in make ({count})", "\n".join(wrong[:6]))


def on_terminal(folder, environment, *arguments):
    """What the program writes to a terminal."""
    pid, master = pty.fork()
    if pid == 0:
        os.chdir(folder)
        os.execve(WETSIDE, [WETSIDE, *arguments], environment)
    data = b""
    while select.select([master], [], [], 20)[0]:
        try:
            piece = os.read(master, 65536)
        except OSError:
            break
        if not piece:
            break
        data += piece
    status = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    os.close(master)
    return status, data.replace(b"\r\n", b"\n")


def judge_environment(folder):
    """The environment changes no product and puts nothing raw on a terminal."""
    usual = run("cues", "main.wet", cwd=folder).stdout
    wrong, count = [], 0
    for variable in ("COLUMNS", "LINES", "NO_COLOR", "LANG", "LC_ALL", "LC_NUMERIC", "TERM", "TZ", "HOME", "TMPDIR", "POSIXLY_CORRECT",
                     "WETSIDE_PATH", "GIT_DIFF_PATH_COUNTER", "PATH", "XDG_STATE_HOME"):
        for name, word in some(7):
            word = word.replace(b"\0", b"")[:10000]
            held = {**os.environ, variable: os.fsdecode(word)}
            done = run("cues", "main.wet", cwd=folder, environment={variable: os.fsdecode(word)})
            count += 1
            if done.returncode != 0 or done.stdout != usual or not is_harmless(done.stderr):
                wrong.append(f"{variable}, {name}: {done.returncode}, {done.stderr[:200]!r}")
            if variable in ("TERM", "COLUMNS", "NO_COLOR", "LANG"):
                status, data = on_terminal(folder, held, "check", "main.wet")
                if status != 0 or not is_harmless(re.sub(rb"\x1b\[[\d;]*m", b"", data)):
                    wrong.append(f"{variable}, {name}, on a terminal: {status}, {data[:200]!r}")
    check(not wrong, f"hostile environments ({count})", "\n".join(wrong[:6]))


def main():
    with tempfile.TemporaryDirectory() as root:
        folder = os.path.join(root, "words")
        slots.write(folder, slots.tame_texts(), slots.tame_names())
        with open(os.path.join(folder, "plain.wet"), "w", encoding="utf-8") as file:
            file.write(RECIPE)
        judge_commands(folder)
        judge_options(folder)
        judge_environment(folder)
        judge_files(root)
        judge_make(root)
    end()


main()
