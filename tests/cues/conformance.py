#!/usr/bin/env python3
"""Every cue list of every example is read by parsers that others wrote: the W3C group's WebVTT parser, Python's csv,
papaparse, Python's json, jq, and ajv against docs/schemas/cues.schema.json."""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

import read_back
from harness import ROOT, check, end, read, skip

READERS = os.path.join(os.path.dirname(os.path.abspath(__file__)), "readers.mjs")
SCHEMA = os.path.join(ROOT, "docs", "schemas", "cues.schema.json")


def node(mode, *files):
    """What readers.mjs says of each file; None where the parser is missing."""
    done = subprocess.run(["node", READERS, mode, *files], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    if done.returncode == 77:
        skip(f"readers.mjs {mode}", done.stderr.decode().strip())
        return None
    if done.returncode != 0:
        check(False, f"readers.mjs {mode}", done.stderr.decode())
        return None
    return json.loads(done.stdout)


def write_all(folder, processes):
    """Each process in each format as a file; returns {format: [path]}."""
    paths = {form: [] for form in read_back.FORMATS}
    for number, (path, process) in enumerate(processes):
        for form in read_back.FORMATS:
            target = os.path.join(folder, f"{number:02}-{process}.{form}")
            with open(target, "wb") as file:
                file.write(read_back.emit(path, "cues", form, process))
            paths[form].append(target)
    return paths


def content(path):
    with open(path, "rb") as file:
        return file.read()


def check_vtt(paths):
    for path, said in zip(paths, node("vtt", *paths) or []):
        name = os.path.basename(path)
        check(said["errors"] == [], f"{name}: the W3C parser finds no error", json.dumps(said["errors"][:5]))
        own = read_back.vtt_captions(content(path))
        seen = [(cue["id"], cue["startTime"], cue["endTime"], cue["payload"].split("\n")) for cue in said["cues"]]
        check(seen == own and len(seen) > 0, f"{name}: it reads every caption", f"{len(seen)} of {len(own)}")
        starts = [start for _, start, _, _ in own]
        check(starts == sorted(starts), f"{name}: starts do not fall")
        check(all(last - start >= 1 for _, start, last, _ in own), f"{name}: every caption stands for a second")
        check(len({number for number, *_ in own}) == len(own), f"{name}: identifiers are unique")
        text = content(path)
        check(text.startswith(b"WEBVTT\n\n") and text.count(b"-->") == len(own), f"{name}: --> in timings only")


def check_csv(paths):
    seen_by_papaparse = node("csv", *paths)
    for number, path in enumerate(paths):
        name = os.path.basename(path)
        data = content(path)
        rows = read_back.csv_rows(data)
        check(len(rows) > 0 and all(None not in row and None not in row.values() for row in rows),
              f"{name}: Python's csv reads rows of the same width")
        bare = data.replace(b"\r\n", b"")
        check(data.endswith(b"\r\n") and b"\r" not in bare and b"\n" not in bare, f"{name}: lines end in CR LF")
        check(not data.startswith(b"\xef\xbb\xbf"), f"{name}: no byte order mark")
        for column in ("at", "since_pour", "since_start", "until"):
            off = [row for row in rows if row[column] and read_back.seconds_of(row[column]) !=
                   (float(row[column + "_s"]) * 1000 + 500) // 1000]
            check(not off, f"{name}: {column} and {column}_s agree", off[:2])
        if seen_by_papaparse:
            said = seen_by_papaparse[number]
            check(said["errors"] == [], f"{name}: papaparse finds no error", json.dumps(said["errors"][:5]))
            check(said["rows"] == rows, f"{name}: papaparse reads the same rows")


def check_json(paths):
    validated = node("schema", SCHEMA, *paths)
    for number, path in enumerate(paths):
        name = os.path.basename(path)
        data = content(path)
        value = json.loads(data, parse_constant=lambda word: check(False, f"{name}: no {word}"))
        check(data.endswith(b"}\n"), f"{name}: ends in a line feed")
        if shutil.which("jq"):
            done = subprocess.run(["jq", "-c", "."], input=data, stdout=subprocess.PIPE, check=False)
            check(done.returncode == 0 and json.loads(done.stdout) == value, f"{name}: jq reads the same")
        if validated:
            check(validated[number] == [], f"{name}: fits the schema, no key besides",
                  json.dumps(validated[number][:5], indent=1))
        written = re.findall(rb": (-?\d+\.?\d*(?:e-?\d+)?)", data)
        long = [figure for figure in written if repr(float(figure)).removesuffix(".0") != figure.decode()]
        check(not long, f"{name}: figures are the shortest that read back the same", long[:5])
    if not shutil.which("jq"):
        skip("jq", "not installed")


def words_of(path, macro):
    return re.findall(rf'^{macro}\(\w+, "([^"]+)"', read(path), re.M)


def check_schema():
    """The schema's word lists are those of the row files."""
    schema = json.loads(read("docs/schemas/cues.schema.json"))
    steps, cues = schema["$defs"]["step"]["properties"], schema["$defs"]["cue"]["properties"]
    check(cues["kind"]["enum"] == words_of("src/compute/cues.def", "CUE"), "the schema knows the kinds of cues")
    check(steps["role"]["enum"] == words_of("src/model/roles.def", "ROLE"), "the schema knows the roles")
    families = schema["properties"]["process"]["properties"]["family"]["enum"]
    check(families == words_of("src/model/families.def", "FAMILY") + [None], "the schema knows the process families")


def check_docs(csv_path):
    """docs/cues.md knows the kinds of cues and the columns of csv."""
    docs = read("docs/cues.md")
    first_cells = [cell for row in re.findall(r"^\| (`[^|]*)\|", docs, re.M) for cell in re.findall(r"`([^`]+)`", row)]
    header = content(csv_path).split(b"\r\n")[0].decode().split(",")
    kinds = words_of("src/compute/cues.def", "CUE")
    check(first_cells == kinds + header, "docs/cues.md names the kinds of cues and the columns", first_cells)


def main():
    if not shutil.which("node"):
        print("node is not installed")
        sys.exit(77)
    processes = read_back.example_processes()
    check(len(processes) >= 8, "there are examples", processes)
    processes.append(read_back.FRACTIONS)
    check_schema()
    with tempfile.TemporaryDirectory() as folder:
        paths = write_all(folder, processes)
        check_vtt(paths["vtt"])
        check_csv(paths["csv"])
        check_json(paths["json"])
        check_docs(paths["csv"][0])
    end()


if __name__ == "__main__":
    main()
