#!/usr/bin/env python3
"""Prints, from the gcov data of a build folder, how many lines and branches of each file of src/ were run, worst last.

    coverage.py FOLDER               the table; fails where all of src/ together is below LINES_LEAST or BRANCHES_LEAST
    coverage.py FOLDER --missing F   the lines of the files whose path holds F that were not run, with the branches that
                                     were never taken as `taken/all` (a line stands there once for each function)

Nothing is left out but what gcov itself does not see: at -O0 a branch is one way out of one condition of the source,
counted for every operand of `&&` and `||`, for every `?:` and for every case of a switch, also where it comes out of a
macro (ARENA_RESERVE, the rows of a .def) and also where it guards against what no test can bring about (memory that
runs out). C has no exceptions, so there are no hidden branches at calls; no source of src/ holds an assertion; and the
way from a failed allocation to its landing place is a jump, not a branch. What flex and bison made is told apart.
"""

import argparse
import collections
import concurrent.futures
import glob
import json
import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
LINES_LEAST, BRANCHES_LEAST = 95.0, 85.0  # per cent of all of src/
PARTS = {"src/": "all of src/", "grammar/": "grammar/, with flex's and bison's code around it",
         "build/generated/syntax/": "grammar/, with flex's and bison's code around it"}


def report_of(data):
    counts = data[:-len("gcno")] + "gcda"
    if os.path.exists(counts) and os.path.getmtime(counts) < os.path.getmtime(data):
        os.unlink(counts)  # of an object that has been made anew
    command = ["gcov", "--json-format", "--stdout", "--branch-probabilities", data]
    return json.loads(subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                                     check=True).stdout)


class Counts:
    """How often each line and each branch of one file was run, over all objects that hold it."""

    def __init__(self):
        self.lines, self.branches = collections.Counter(), collections.Counter()

    def add(self, line):
        number, function = line["line_number"], line.get("function_name", "")
        self.lines[number] += line["count"]
        for index, branch in enumerate(line["branches"]):
            self.branches[number, function, index] += branch["count"]

    def update(self, other, path):
        """Takes over the counts of another file, apart from those that are here."""
        self.lines.update({(path, key): count for key, count in other.lines.items()})
        self.branches.update({(path, key): count for key, count in other.branches.items()})

    def missing(self):
        """Lines not run or run without all of their branches, each with how many were taken of how many."""
        of_line = collections.defaultdict(list)
        for (number, _, _), count in self.branches.items():
            of_line[number].append(count)
        for number in sorted(self.lines):
            taken, of_all = sum(1 for count in of_line[number] if count), len(of_line[number])
            if not self.lines[number] or taken < of_all:
                yield number, self.lines[number], taken, of_all


def measured(folder):
    files = collections.defaultdict(Counts)
    # By the notes of the compiler: an object that no test ever ran has no data, and counts as not run.
    data = sorted(glob.glob(os.path.join(ROOT, folder, "objects", "**", "*.gcno"), recursive=True))
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count() or 2) as pool:
        for report in pool.map(report_of, data):
            for file in report["files"]:
                path = os.path.relpath(os.path.join(ROOT, file["file"]), ROOT)
                if os.path.exists(os.path.join(ROOT, path)):  # an object may be left of a source that is gone
                    for line in file["lines"]:
                        files[path].add(line)
    return files


def share(counts):
    return 100 * sum(1 for count in counts.values() if count) / len(counts) if counts else 100.0


def unrun(counts):
    return f"{sum(1 for count in counts.values() if not count)} of {len(counts)}"


def print_row(counts, name):
    print(f"{share(counts.lines):7.1f}% {unrun(counts.lines):>15} {share(counts.branches):8.1f}% "
          f"{unrun(counts.branches):>15}  {name}")


def print_missing(files, wanted):
    for path in sorted(path for path in files if wanted in path):
        with open(os.path.join(ROOT, path), encoding="utf-8") as file:
            text = file.read().splitlines()
        for number, runs, taken, of_all in files[path].missing():
            print(f"{path}:{number}: {f'{taken}/{of_all}' if runs else 'not run'}\t{text[number - 1].strip()}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("folder")
    parser.add_argument("--missing", metavar="F")
    options = parser.parse_args()
    files = measured(options.folder)
    if options.missing is not None:
        print_missing(files, options.missing)
        return 0

    totals = {name: Counts() for name in PARTS.values()}
    print(f"\n{'lines':>8} {'not run':>15} {'branches':>9} {'not taken':>15}")
    for path in sorted(files, key=lambda path: -share(files[path].branches)):
        for folder, name in PARTS.items():
            if path.startswith(folder):
                totals[name].update(files[path], path)
        if path.startswith("src/"):
            print_row(files[path], path)
    for name, counts in totals.items():
        print_row(counts, name)

    source = totals[PARTS["src/"]]
    lines, branches = share(source.lines), share(source.branches)
    if lines < LINES_LEAST or branches < BRANCHES_LEAST:
        print(f"coverage: {lines:.1f} % of lines and {branches:.1f} % of branches; "
              f"wanted {LINES_LEAST:.0f} % and {BRANCHES_LEAST:.0f} %")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
