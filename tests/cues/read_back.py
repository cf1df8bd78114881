"""Reads cue lists back from every format, so that tests can compare them. Not a test by itself.

A cue is (at, step, text): seconds since the run's start, the step's name, what it says. The text format and the
timer print whole seconds; `rounded` brings the others to that.
"""

import csv
import io
import json
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

FORMATS = ("text", "csv", "json", "vtt")
CLOCK = re.compile(r"^(-?)(\d+):(\d\d):(\d\d)$")
TEXT_CUE = re.compile(r"^ *(-?\d+:\d\d:\d\d)  +(-?\d+:\d\d:\d\d)  ([* ]) (\S.*)$")
TEXT_HEADING = re.compile(r"^ *(\d+)\. (\S+)")
VTT_TIMING = re.compile(r"^(\d\d+):(\d\d):(\d\d)\.(\d\d\d) --> (\d\d+):(\d\d):(\d\d)\.(\d\d\d)$")


def example_processes():
    """Every (file, process) of examples/, in order."""
    found = []
    folder = os.path.join(harness.ROOT, "examples")
    for name in sorted(os.listdir(folder)):
        if name.endswith(".wet"):
            path = os.path.join("examples", name)
            found += [(path, process) for process in re.findall(r"^process ([\w-]+)", harness.read(path), re.M)]
    return found


# Fractions of a second, instants closer than a second, a clock past 99 hours.
FRACTIONS = (os.path.join("tests", "cues", "fractions.wet"), "fractions")


def emit(path, product, form, process=None, **options):
    """The bytes of a product; ends the script where the program doesn't make it."""
    arguments = [product, "--to", form] + (["--process", process] if process else []) + [path]
    done = harness.run(*arguments, **options)
    if done.returncode != 0:
        harness.not_ok(f"{product} --to {form} of {path} {process or ''}", done.stderr.decode("utf-8", "replace"))
        harness.end()
    return done.stdout


def seconds_of(clock):
    """Whole seconds of h:mm:ss."""
    sign, hours, minutes, seconds = CLOCK.match(clock).groups()
    return (-1 if sign else 1) * (int(hours) * 3600 + int(minutes) * 60 + int(seconds))


def rounded(cues):
    """The same cues with their times rounded half up to whole seconds."""
    return [(int((at * 1000 + 500) // 1000), step, text) for at, step, text in cues]


def plain(text):
    """With ordinary spaces for no-break ones."""
    return text.replace("\u00a0", " ")


def read_json(data):
    return [(cue["at_s"], cue["step_name"], cue["text"]) for cue in json.loads(data)["cues"]]


def csv_rows(data):
    text = data.decode("utf-8")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def read_csv(data):
    return [(float(row["at_s"]), row["step_name"], row["text"]) for row in csv_rows(data)]


def unescape_vtt(text):
    return text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")


def vtt_captions(data):
    """Captions as (id, start, end, lines), read by the rules of the format that the project uses."""
    blocks = data.decode("utf-8").rstrip("\n").split("\n\n")
    captions = []
    for block in blocks[1:]:
        lines = block.split("\n")
        if lines[0] == "NOTE":
            continue
        times = [int(part) for part in VTT_TIMING.match(lines[1]).groups()]
        start, end = (h * 3600 + m * 60 + s + ms / 1000 for h, m, s, ms in (times[:4], times[4:]))
        captions.append((lines[0], start, end, lines[2:]))
    return captions


def read_vtt(data):
    cues = []
    for _, start, _, lines in vtt_captions(data):
        for line in lines:
            step, text = plain(unescape_vtt(line)).split(": ", 1)
            cues.append((start, step, text))
    return cues


def text_rows(data):
    """Cues of the text format as [run clock, step clock, mark, step, text]; continued lines are joined."""
    rows, step, names = [], None, {}
    for line in data.decode("utf-8").split("\n"):
        cue = TEXT_CUE.match(line)
        heading = TEXT_HEADING.match(line)
        if cue:
            rows.append([*cue.groups()[:3], step, cue.group(4)])
        elif heading:
            step = heading.group(2).rstrip(",")
            names[step] = int(heading.group(1))
        elif rows and re.match(r"^ {20,}\S", line):
            rows[-1][4] += " " + line.strip()
        elif rows and line and not line.startswith(" "):
            raise ValueError(f"a line that is no cue: {line!r}")
    for row in rows:  # a late cue of an earlier step names it
        late = re.match(r"^(.*) of (\S+)$", row[4])
        if late and late.group(2) in names:
            row[4], row[3] = late.groups()
    return rows


def read_text(data):
    return [(seconds_of(run), step, text) for run, _, _, step, text in text_rows(data)]


READERS = {"text": read_text, "csv": read_csv, "json": read_json, "vtt": read_vtt}
