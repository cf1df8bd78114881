#!/usr/bin/env python3
"""Prints, from the gcov data of a build folder, the share of lines and branches run in each file of src/."""

import collections
import glob
import json
import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def measured(folder):
    """For each source: lines seen and run, branches seen and taken, over all objects that hold it."""
    lines, branches = collections.defaultdict(dict), collections.defaultdict(dict)
    for data in sorted(glob.glob(os.path.join(ROOT, folder, "objects", "**", "*.gcda"), recursive=True)):
        report = subprocess.run(["gcov", "--json-format", "--stdout", "--branch-probabilities", data], cwd=ROOT,
                                stdout=subprocess.PIPE, check=True).stdout
        for file in json.loads(report)["files"]:
            for line in file["lines"]:
                key = line["line_number"]
                lines[file["file"]][key] = lines[file["file"]].get(key, 0) + line["count"]
                for number, branch in enumerate(line["branches"]):
                    taken = branches[file["file"]].get((key, number), 0) + branch["count"]
                    branches[file["file"]][key, number] = taken
    return lines, branches


def share(counts):
    return 100 * sum(1 for count in counts.values() if count) / len(counts) if counts else 100.0


def main():
    lines, branches = measured(sys.argv[1])
    total_lines, total_branches = {}, {}
    print(f"\n{'lines':>8} {'branches':>9}")
    for path in sorted(lines):
        if path.startswith("src/"):
            print(f"{share(lines[path]):7.1f}% {share(branches[path]):8.1f}%  {path}")
            total_lines.update({(path, key): count for key, count in lines[path].items()})
            total_branches.update({(path, key): count for key, count in branches[path].items()})
    print(f"{share(total_lines):7.1f}% {share(total_branches):8.1f}%  all of src/")


main()
