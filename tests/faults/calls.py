#!/usr/bin/env python3
"""A call to the system fails: opening, reading, writing, closing, storing, renaming, each in turn and each with what the
system may say. One line names what could not be done, with its reason, the exit status is 2 (1 where a finding says it at
its place in the recipe), the old file stands, and no temporary file is left. What a program has to put up with (short
reads and writes, interruptions) changes nothing."""
# builds: plain
# lasts: 30

import errno
import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import case, cases, prepare  # noqa: E402
from injector import files_of, inject, own_lines  # noqa: E402
from harness import check, end  # noqa: E402

# What may be said of a call, and which of our words stand for it where they are not the system's own.
FAILURES = [("open", ["EACCES", "EMFILE", "EIO", "ENOENT", "ELOOP"]), ("read", ["EIO", "EISDIR"]), ("fstat", ["EIO"]),
            ("create", ["ENOSPC", "EROFS", "EACCES", "EDQUOT"]), ("write", ["ENOSPC", "EIO", "EDQUOT", "EFBIG", "EPIPE"]),
            ("close", ["EIO", "ENOSPC"]), ("fsync", ["EIO", "ENOSPC"]), ("rename", ["EACCES", "EXDEV", "EIO", "EROFS"]),
            ("fchmod", ["EPERM"]), ("readlink", ["EIO"])]
WORDS = {"EACCES": "it may not be read", "ENOENT": "there is no such file", "ELOOP": "its symbolic links lead in a circle",
         "EISDIR": "it is a folder"}
# Calls that a run can do without: the file becomes the writer's own, a path is compared by its name, there is no folder to
# complete from. Of the others the failure of at least one has to be told.
HARMLESS = [("read", "EINTR"), ("write", "EINTR"), ("write", "EAGAIN"), ("close", "EINTR"), ("fsync", "EINTR"),
            ("fsync", "EINVAL"), ("read", "short"), ("write", "short")]
CHANGES = ["shrink", "grow", "end"]

CASES = ["cues to text, a file", "cues of a recipe on standard input", "cues to text", "check", "check --fix", "check, with a dependency file", "fmt", "new",
         "plan to json, a file", "cues to wav, a file", "cues to wav", "review to json", "a sheet with its dependency file"]
COUNT = {"failures": 0, "told": 0, "harmless": 0}


def is_same(run, clean):
    return (run.status, run.out, run.errors, run.files) == (clean.status, clean.out, clean.errors, clean.files)


def tells(run, reasons):
    """Whether a failure is told as it should be: one line of the program's own, or findings at their place."""
    said = own_lines(run.errors)
    if run.status == 1:
        return any(re.search(rf"^[\w.]+:\d+:\d+: error: cannot use `[\w.]+`: {re.escape(reason)} \[unreadable-file\]$\n.*\n.*\^",
                             run.errors, re.MULTILINE) for reason in reasons)
    said = [line for line in said if "is still the OLD" not in line]
    return run.status == 2 and len(said) == 1 and any(
        re.fullmatch(rf"wetside: cannot (read|write) (`[\w.-]+`|to standard output): {re.escape(reason)}", said[0])
        for reason in reasons)


def judge_failure(one, folder, scratch, call, name, is_needed):
    """Each call of a kind fails; one that is not missed is as good as none. Returns how many were told."""
    number = getattr(errno, name)
    runs = inject(one, folder, scratch, call, number, most=8)
    clean = runs.pop()
    reasons = [os.strerror(number), WORDS.get(name, "")]
    told = [run for run in runs if not is_same(run, clean)]
    whole = [files_of(one, clean), clean.files]
    if call == "rename":  # two files cannot take their names at once; the second may fail
        whole.append({name: value for name, value in clean.files.items() if name != one.other})
    wrong = [f"{call} {run.number} of {clean.count}: status {run.status}, {run.out} bytes, {run.errors!r}" for run in told
             if not tells(run, [reason for reason in reasons if reason]) or run.files not in whole or
             (run.out not in (0, clean.out) and not one.is_streamed) or run.left > clean.left]
    COUNT["failures"] += len(runs)
    COUNT["told"] += len(told)
    COUNT["harmless"] += len(runs) - len(told)
    if runs:
        check(not wrong and (told or not is_needed), f"{one.name}: {call} {name}, {len(runs)} times, told {len(told)} times",
              "\n".join(wrong[:5]) or "never told")


def judge_harmless(one, folder, scratch, call, name):
    how = getattr(errno, name, name)
    for goes_on in (False, True)[:1 + (name == "short" and not one.is_streamed and "wav" not in one.name)]:
        runs = inject(one, folder, scratch, call, how, goes_on, most=4)
        clean = runs.pop()
        wrong = [f"{run.number}: status {run.status}, {run.errors!r}" for run in runs if not is_same(run, clean)]
        COUNT["failures"] += len(runs)
        COUNT["harmless"] += len(runs)
        if runs:
            check(not wrong, f"{one.name}: {call} {name}{' again and again' * goes_on} changes nothing", "\n".join(wrong[:5]))


def judge_changes(folder, scratch):
    """A file that somebody changes while it is read is no recipe, be it the main file or a used one."""
    used = case("", ["cues", "user.wet"], "changing.wet", "one.wet")
    with open(os.path.join(folder, "user.wet"), "w", encoding="utf-8") as file:
        file.write('wetside 1\nuse "changing.wet"\nprocess two from one { push 1; step develop for 1:20 }\n')
    main = case("", ["cues", "changing.wet"], "changing.wet", "one.wet")
    for how in CHANGES:
        for name, one, status in (("the main file", main, 2), ("a used file", used, 1)):
            runs = inject(one, folder, scratch, "read", how, path="changing.wet")
            told = [run for run in runs[:-1] if run.status == status and "it was changed while it was read" in run.errors]
            COUNT["failures"] += len(runs) - 1
            missed = [run for run in runs[:-1] if run not in told and not is_same(run, runs[-1])]
            check(told and not missed,
                  f"{name}, read: {how}", "\n".join(f"{run.status} {run.errors}" for run in runs))
    runs = inject(main, folder, scratch, "read", "vanish")
    check(all(run.status == 0 and run.out == runs[-1].out for run in runs), "a file that vanishes while it is read is read",
          runs[0])


def main():
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as scratch:
        prepare(folder)
        for one in [one for one in cases() if one.name in CASES]:
            is_file = one.target != ""
            needed = {"open", "read", "fstat"} | ({"create", "write", "close", "fsync", "rename"} if is_file else
                                                  {"write"} if one.name != "check" else set())
            for call, names in FAILURES:
                for name in names:
                    judge_failure(one, folder, scratch, call, name, call in needed and one.name != "new")
            for call, name in HARMLESS:
                judge_harmless(one, folder, scratch, call, name)
        judge_changes(folder, scratch)
    print(f"{COUNT['failures']} faults injected: {COUNT['told']} told, {COUNT['harmless']} without harm")
    end()


if __name__ == "__main__":
    main()
