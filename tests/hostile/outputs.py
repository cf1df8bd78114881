"""Every output of the program: how it is made from a recipe of slots.py, and how it is read by a program that is not ours, as
a flat list of texts. Not a test by itself."""

import csv
import hashlib
import io
import json
import os
import re
import struct
import subprocess
import sys
import xml.etree.ElementTree

import slots
from harness import WETSIDE

HERE = os.path.dirname(os.path.abspath(__file__))
OF_A_RUN = ["--load", "1"]  # with the rolls of a load

# Product: the words of its command line. {base} is the recipe that `diff` compares with, {log} a log for `review`.
PRODUCTS = {
    "sheet": [*OF_A_RUN, "--size", "large", "main.wet"],
    "cues": [*OF_A_RUN, "main.wet"],
    "mix": ["main.wet"],
    "timer": [*OF_A_RUN, "main.wet"],
    "live": [*OF_A_RUN, "main.wet"],
    "forecast": ["main.wet"],
    "model": ["main.wet"],
    "diff": ["{base}", "main.wet"],
    "plan": ["main.wet"],
    "lists": ["main.wet"],
    "review": ["run.log"],
}
# Commands that have another test of this suite: what they write is no product of a recipe.
OTHER_COMMANDS = {"check": "refused.py", "fmt": "refused.py", "new": "words.py", "lsp": "editor.mjs", "explain": "words.py",
                  "complete": "words.py"}


def emitters():
    return [(row[0], row[1]) for row in slots.definitions.rows("emit/emitters.def", "EMITTER")]


def unsorted():
    """Outputs and commands that these tests do not know, or know and are none."""
    commands = {row[0] for row in slots.definitions.rows("commands/commands.def", "COMMAND")}
    formats = {form for _, form in emitters()}
    wrong = sorted(commands ^ {*PRODUCTS, *OTHER_COMMANDS}) + sorted({product for product, _ in emitters()} ^ {*PRODUCTS})
    return wrong + sorted(formats ^ {*READERS}) + [path for path in set(OTHER_COMMANDS.values())
                                                  if not os.path.exists(os.path.join(HERE, path))]


def make(product, form, folder, base):
    """Runs the command in the recipe's folder; status, bytes written, what was said."""
    words = [word.format(base=base) for word in PRODUCTS[product]]
    done = subprocess.run([WETSIDE, product, "--to", form, *words], cwd=folder, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False, timeout=120)
    return done.returncode, done.stdout, done.stderr


# ---- readers: a list of (leaves, complaints) for a list of outputs ----

def node(mode, datas, folder):
    """What a parser of read.mjs says of each."""
    paths = []
    for number, data in enumerate(datas):
        paths.append(os.path.join(folder, f"{mode}-{number}"))
        with open(paths[-1], "wb") as file:
            file.write(data)
    done = subprocess.run(["node", os.path.join(HERE, "read.mjs"), mode, *paths], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False)
    for path in paths:
        os.remove(path)
    if done.returncode == 77:
        print(done.stderr.decode())
        sys.exit(77)
    return json.loads(done.stdout)


def no_twice(pairs):
    """An object of JSON, which names nothing twice."""
    if len(pairs) != len({key for key, _ in pairs}):
        raise ValueError("a key stands twice")
    return dict(pairs)


def flat(value, path=""):
    """The leaves of a JSON value, each behind its path."""
    if isinstance(value, dict):
        return [leaf for key, each in value.items() for leaf in flat(each, f"{path}.{key}")]
    if isinstance(value, list):
        return [leaf for each in value for leaf in flat(each, path + "[]")]
    return [path, value if isinstance(value, str) else repr(value)]


def strict_json(text):
    def no_constant(word):
        raise ValueError(word)
    return json.loads(text, object_pairs_hook=no_twice, parse_constant=no_constant)


def read_json(datas, _):
    """By Python and by jq, which must agree."""
    found = []
    done = subprocess.run(["jq", "-c", "."], input=b"".join(datas), stdout=subprocess.PIPE, check=False)
    by_jq = done.stdout.decode("utf-8").split("\n")
    for number, data in enumerate(datas):
        complaints = []
        try:
            value = strict_json(data.decode("utf-8"))
            if json.loads(by_jq[number]) != value:
                complaints.append("jq reads something else")
        except (ValueError, IndexError) as problem:
            value, complaints = None, [repr(problem)]
        found.append((flat(value), complaints))
    return found


def page_of(page):
    """Leaves and complaints of a page that read.mjs has read."""
    complaints = [*page["errors"], *page["handlers"]]
    complaints += [link for link in page["links"] if not re.match(r"a href (?:https?://|mailto:)\w", link)]
    leaves = page["leaves"]
    for tag, is_data, inside in page["code"]:
        leaves += [f"<{tag}>", *(flat(strict_json(inside)) if is_data else [inside])]
    return leaves, complaints


def read_html(datas, folder):
    return [page_of(page) for page in node("html", datas, folder)]


def read_markdown(datas, folder):
    """Through cmark, which leaves raw HTML as it is and follows every link, then as a page."""
    pages = [b"<!DOCTYPE html>" + subprocess.run(["cmark", "--unsafe"], input=data, stdout=subprocess.PIPE, check=True).stdout
             for data in datas]
    return read_html(pages, folder)


def plain_of(value):
    return value["leaves"], value["errors"]


def read_vtt(datas, folder):
    return [plain_of(value) for value in node("vtt", datas, folder)]


def read_ics(datas, folder):
    return [plain_of(value) for value in node("ics", datas, folder)]


def read_csv(datas, _):
    """Rows by Python's csv; a cell that a spreadsheet would calculate, and the mark before one that it would."""
    found = []
    for data in datas:
        leaves, complaints = [], []
        text = data.decode("utf-8")
        for row in csv.reader(io.StringIO(text, newline=""), strict=True):
            leaves.append(f"<row of {len(row)}>")
            for cell in row:
                if cell[:1] in tuple("=+-@\t\r") and not re.fullmatch(r"-?[\d.:]+", cell):
                    complaints.append(f"a formula: {cell[:60]!r}")
                leaves.append(cell[1:] if cell[:1] == "'" and cell[1:2] in tuple("=+-@\t\r") else cell)
        found.append((leaves, complaints))
    return found


def read_text(datas, _):
    """One leaf: lines are broken where there is room."""
    return [([data.decode("utf-8")], []) for data in datas]


def read_svg(datas, _):
    found = []
    for data in datas:
        leaves = []
        for element in xml.etree.ElementTree.fromstring(data).iter():
            leaves += [element.tag, element.text or "", element.tail or ""]
            leaves += [f"@{name}={value}" for name, value in sorted(element.attrib.items())]
        complaints = [leaf for leaf in leaves if re.match(r"@on|@href=|@\{.*\}href=|.*\}script", leaf)]
        found.append((leaves, complaints))
    return found


def read_sh(datas, folder):
    """Run by dash: what it would do in a run."""
    found = []
    for data in datas:
        path = os.path.join(folder, "timer.sh")
        with open(path, "wb") as file:
            file.write(data)
        done = subprocess.run(["dash", path, "--dry-run"], cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, check=False, env={"PATH": os.environ["PATH"], "HOME": folder})
        os.remove(path)
        strange = [f"it left {name}" for name in os.listdir(folder)]
        leaves = [done.stdout.decode("utf-8")]
        found.append((leaves, strange + ([done.stderr.decode("utf-8", "replace")] if done.returncode or done.stderr else [])))
    return found


def read_wav(datas, _):
    """The chunks of a RIFF file: the sound as its sum, the labels of its cue points as texts."""
    found = []
    for data in datas:
        leaves, complaints, at = [], [], 12
        if data[:4] != b"RIFF" or data[8:12] != b"WAVE" or len(data) != struct.unpack("<I", data[4:8])[0] + 8:
            complaints.append("no RIFF file, or of another length than it says")
        while at + 8 <= len(data):
            kind, length = data[at:at + 4], struct.unpack("<I", data[at + 4:at + 8])[0]
            if kind == b"LIST":
                at += 12
                continue
            body = data[at + 8:at + 8 + length]
            leaves.append(f"{kind.decode()} {body[:4].hex()}")
            if kind == b"labl":
                text, ended, rest = body[4:].partition(b"\0")
                leaves.append(text.decode("utf-8"))
                complaints += [] if ended and not rest else ["a label that does not end at its NUL"]
            else:
                leaves.append(hashlib.sha256(body).hexdigest()[:20])
            at += 8 + length + length % 2
        found.append((leaves, complaints + ([] if at == len(data) else ["a chunk goes beyond the end"])))
    return found


READERS = {"html": read_html, "markdown": read_markdown, "text": read_text, "csv": read_csv, "json": read_json, "vtt": read_vtt,
           "wav": read_wav, "sh": read_sh, "svg": read_svg, "ics": read_ics}
