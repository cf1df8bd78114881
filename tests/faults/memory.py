#!/usr/bin/env python3
"""Memory ends: the n-th allocation fails, for each n, in every command and output; of the program as it is, and of one whose
arena asks the system for each allocation. It ends with status 2 and one line, and leaves nothing half-written, no temporary
file, no memory. `--all` leaves out none of the allocations of the second program."""
# builds: plain
# lasts: 40

import os
import re
import resource
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import cases, prepare  # noqa: E402
from injector import FINE, NEVER, WETSIDE, files_of, inject, own_lines  # noqa: E402
from harness import check, end  # noqa: E402

SAID = "wetside: there is not enough memory"
LAST = 8
FAILED = {"in all": 0, "no harm": 0}


def wrong_of(case, run, clean):
    """What is wrong with one run, in words; empty where nothing is. All was written or nothing was: what comes behind
    (findings, a dependency file's name) may fail when a file stands or standard output is written."""
    if run.left > clean.left:
        return f"{run.left - clean.left} blocks are not given back"
    if run.status == case.status and (run.out, run.errors, run.files) == (clean.out, clean.errors, clean.files):
        FAILED["no harm"] += 1  # as of qsort, which can do without
        return ""
    said = [line for line in own_lines(run.errors) if line not in own_lines(clean.errors)[:1]]
    if case.name == "lsp":  # it goes on with the next message, and the last may have been the end of the session
        return "" if run.status in (0, 1, 2) and set(line[:len(SAID)] for line in said) == {SAID} else f"status {run.status}, says {run.errors!r}"
    if run.status != 2 or said != [SAID]:
        return f"status {run.status}, says {run.errors!r}"
    if run.out not in (0, clean.out) and not case.is_streamed:
        return f"{run.out} of {clean.out} bytes on standard output"
    return "" if run.files in (files_of(case, clean), clean.files) else f"files {sorted(run.files)}"


def judge(case, folder, scratch, program, most, goes_on):
    runs = inject(case, folder, scratch, goes_on=goes_on, program=program, most=most)
    clean = runs.pop()
    wrong = [f"allocation {run.number} of {clean.count}: {said}" for run in runs
             for said in [wrong_of(case, run, clean)] if said]
    is_whole = clean.status == case.status and ".wetside" not in "".join(clean.files)
    FAILED["in all"] += len(runs)
    check(is_whole and not wrong, f"{case.name}: {len(runs)} of {clean.count} allocations fail{', with all later ones' * goes_on}"
          f"{' (each of the arena)' * (program == FINE)}", "\n".join(wrong[:6]) or clean)


def judge_end(case, folder, scratch):
    """The last allocations one by one, where files take their names."""
    runs = inject(case, folder, scratch, program=FINE, last=LAST)
    clean = runs.pop()
    wrong = [f"allocation {run.number} of {clean.count}: {said}" for run in runs
             for said in [wrong_of(case, run, clean)] if said]
    FAILED["in all"] += len(runs)
    check(len(runs) > 1 and not wrong, f"{case.name}: the last {len(runs)} of {clean.count} allocations fail",
          "\n".join(wrong[:6]))


def judge_limit(folder):
    """An ordinary limit of the shell's, ulimit -v, on a recipe that needs more."""
    many = "".join(f'solution s{i} "{"x" * 200}" {{ role fix }}\n' for i in range(100000))
    with open(os.path.join(folder, "many.wet"), "w", encoding="utf-8") as file:
        file.write("wetside 1\n" + many)
    most = 48 * 1024 * 1024
    for words in (["check"], ["model", "-o", "none"], ["fmt"]):
        done = subprocess.run([WETSIDE, *words, "many.wet"], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                              check=False, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (most, most)))
        said = own_lines(done.stderr.decode())
        check(done.returncode == 2 and said == [SAID] and not done.stdout and not os.path.exists(f"{folder}/none"),
              f"ulimit -v: {words[0]}", (done.returncode, said[:5]))


def main():
    most = NEVER if "--all" in sys.argv else 30
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as scratch:
        prepare(folder)
        wanted = re.compile(os.environ.get("CASES", ""))
        for case in filter(lambda case: wanted.search(case.name), cases()):
            judge(case, folder, scratch, WETSIDE, most, False)
            judge(case, folder, scratch, FINE, most, False)
            judge(case, folder, scratch, FINE, most, True)
        for case in [case for case in cases() if case.target and wanted.search(case.name)]:
            judge_end(case, folder, scratch)
        judge_limit(folder)
    print(f"{FAILED['in all']} allocations failed, {FAILED['no harm']} of them without harm")
    end()


if __name__ == "__main__":
    main()
