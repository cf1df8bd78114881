#!/usr/bin/env python3
# lasts: 20
"""The sheet in characters: no line is wider than asked for, at any width; it says what the Markdown says, word for word;
each mark of its strips stands where `cues --to json` puts it; texts from a recipe cannot move a cursor."""

import difflib
import json
import os
import re
import sys
import tempfile
import unicodedata

import sheets
from harness import check, end, run

IS_PLAIN = os.environ.get("WETSIDE_BUILD", "plain") == "plain"
WIDTHS = range(32, 133)
USUAL = (32, 48, 80, 132)
LABELS = ("  bath|", "  hand|", "   min|")
LEGEND = re.compile(r"Strips: a character is (\d+) s\. .*?min: minutes of the step\.")


def columns(line):
    """What a line takes on a terminal, by Unicode's own tables (UAX #11; marks and formats take nothing)."""
    return sum(0 if unicodedata.category(c) in ("Mn", "Me", "Cf") else 2 if unicodedata.east_asian_width(c) in "WF" else 1
               for c in line)


def emit(path, process=None, width=None, options=()):
    return sheets.emit("sheet", "text", path, process, [*([f"--width={width}"] if width else []), *options])


def check_widths(name, path, process=None, widths=WIDTHS, options=()):
    wide, words = [], set()
    for width in widths:
        text = emit(path, process, width, options)
        wide += [(width, columns(line), line) for line in text.split("\n") if columns(line) > width]
        words.add(squeezed(text))
    check(not wide, f"{name}: no line is wider than asked for, from {widths[0]} to {widths[-1]}", wide[:3])
    check(len(words) == 1, f"{name}: the words are the same at any width", lambda: difference(*sorted(words)[:2]))


def squeezed(text):
    """The words of a sheet in characters without strips, rules, bullets and spaces: what has to be said anyhow."""
    lines = [line for line in text.split("\n") if not line.startswith(LABELS) and not re.fullmatch(r"([=_-])\1{31,}", line)]
    text = re.sub(r"^- ", "", "\n".join(lines), flags=re.M)
    text = LEGEND.sub("", re.sub(r"\s+", " ", text)).replace("[ ]", "☐")
    return re.sub(r"\s+", "", text)


def said_by_markdown(path, process=None, options=()):
    """The same of the Markdown, with the targets of links behind their words."""
    page = sheets.cmark(sheets.emit("sheet", "markdown", path, process, options))
    page = re.sub(r'<a href="([^"]*)">((?:(?!</a>).)*)</a>',
                  lambda link: link[2] + ("" if link[1] == link[2] else f" &lt;{link[1]}&gt;"), page)
    page = re.sub(r"<h2>Pictures</h2>\s*<ul>.*?</ul>", "", page, flags=re.S)
    return re.sub(r"\s+", "", sheets.Page(page).text)


def difference(one, other):
    at = next((i for i, pair in enumerate(zip(one, other)) if pair[0] != pair[1]), min(len(one), len(other)))
    return f"…{one[max(0, at - 40):at + 60]}\n…{other[max(0, at - 40):at + 60]}"


def check_words(name, path, process=None, options=()):
    one, other = squeezed(emit(path, process, 48, options)), said_by_markdown(path, process, options)
    check(one == other and len(one) > 500, f"{name}: it says what the Markdown says", lambda: difference(one, other))


# ---- strips ----

def nearest(figure):
    """Rounded half up."""
    return int((figure + 0.5 + 1e-9) // 1)


def cells(length, columns_in_row, **tracks):
    """The rows of a strip whose tracks are {cell: sign}."""
    rows = []
    for first in range(0, length, columns_in_row):
        for label, marks in zip(LABELS, (tracks["bath"], tracks["hand"])):
            row = "".join(marks.get(cell, " ") for cell in range(first, first + columns_in_row)).rstrip()
            rows += [label + row] if row else []
    return rows


def expected_strip(step, cues, cell_s, columns_in_row):
    """Bath and hand of a step, by the instants of `cues --to json`."""
    zero, bath, hand = step["pour_s"], {}, {}

    def mark(track, start, stop, sign, behind=False):
        first, last = (nearest((time - zero) / cell_s) for time in (start, stop))
        last = max(last, first + 1)
        for cell in range(first, last):
            if not (behind and cell in track):
                track[cell] = sign

    end_s, drain_s = step["end_s"], step["drain_s"]
    if drain_s > zero:
        mark(bath, zero, drain_s, "=")
    drawn = end_s
    if step["latest_end_s"] is not None and step["latest_end_s"] > end_s:
        drawn = step["latest_end_s"]
        mark(bath, end_s, drawn, "-")
    elif step["time"]["form"] == "at-least":
        drawn = end_s + 3 * cell_s
        mark(bath, end_s, drawn, ">")
    mark(bath, zero, min(step["full_s"], drain_s), "/")
    mark(bath, drain_s, end_s, "\\")
    own = [cue for cue in cues if cue["step"] == step["number"]]
    for kind, sign in (("agitation-start", "#"), ("taps", "'")):
        for cue in own:
            if cue["kind"] == kind:
                mark(hand, cue["at_s"], cue["until_s"], sign, kind == "taps")
    for cue in own:
        if cue["kind"] == "light":
            mark(hand, cue["at_s"], cue["at_s"], "*")
    return cells(max([*bath, *hand]) + 1, columns_in_row, bath=bath, hand=hand)


def check_strips(name, path, process, width):
    text, value = emit(path, process, width), json.loads(sheets.emit("cues", "json", path, process))
    cell_s = int(LEGEND.search(re.sub(r"\s+", " ", text))[1])
    columns_in_row = (width - len(LABELS[0])) // (60 // cell_s) * (60 // cell_s)
    drawn, wrong = 0, []
    steps = re.split(r"^_+\n(?=\d+ )", text, flags=re.M)[1:]
    for step, block in zip(value["steps"], steps):
        rows = [line for line in block.split("\n") if line.startswith(LABELS[:2])]
        if step["is_wet"] and (rows or step["end_s"] - step["pour_s"] <= 600):
            drawn += 1
            wanted = expected_strip(step, value["cues"], cell_s, columns_in_row)
            wrong += [(step["number"], rows, wanted)] if rows != wanted else []
            wrong += check_ruler(step, block, cell_s, columns_in_row)
    check(len(steps) == len(value["steps"]) and drawn > 1 and not wrong,
          f"{name}, {width} columns: each mark of {drawn} strips stands where the timeline has it",
          lambda: "\n".join(map(str, wrong[0])) if wrong else f"{len(steps)} {drawn}")


def check_ruler(step, block, cell_s, columns_in_row):
    """Each figure of a ruler stands at its minute."""
    rows = [line[len(LABELS[2]):] for line in block.split("\n") if line.startswith(LABELS[2])]
    wrong = []
    for number, row in enumerate(rows):
        for figure in re.finditer(r"\d+", row):
            at_s = step["start_s"] - step["pour_s"] + 60 * int(figure[0])
            if number * columns_in_row + figure.start() != nearest(at_s / cell_s):
                wrong.append((step["number"], number, figure[0], row))
    return wrong if rows and "0" in rows[0] else wrong + [(step["number"], "no ruler")]


# ---- the rest ----

def check_inert(folder):
    for name in sheets.PAYLOADS:
        path = sheets.hostile(folder, name)
        text = emit(path, width=40)
        hidden = re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]", text)
        check(not hidden, f"hostile {name}: no control or direction changer", hidden and ascii(hidden.group()))
        check_widths(f"hostile {name}", path, widths=(32, 41, 80))
        check(re.sub(r"[-=_]", "", squeezed(text)) == re.sub(r"[-=_]", "", said_by_markdown(path)),
              f"hostile {name}: it says what the Markdown says",
              lambda path=path, text=text: difference(squeezed(text), said_by_markdown(path)))
    deep = os.path.join(folder, "deep.wet")
    with open(deep, "w", encoding="utf-8") as file:
        file.write(sheets.HOSTILE.format(sheets.quoted("*a **b " * 5000 + "c** d*" * 5000)))
    check(bool(emit(deep)), "emphasis nested thousands deep")


def check_usage():
    path = "examples/ecn-2.wet"
    check(emit(path) == emit(path, width=80) and emit(path) != emit(path, width=79), "80 columns where nothing is said")
    for words in (["--width", "31"], ["--width", "1001"], ["--width", "wide"], ["--width", ""], ["--width", "-5"],
                  ["--width", "99999999999999999999"]):
        done = run("sheet", "--to", "text", *words, path)
        check(done.returncode == 2 and b"--width" in done.stderr and not done.stdout, f"wrong usage: {' '.join(words)}",
              done.stderr.decode())
    done = run("sheet", "--width", "48", path)
    check(done.returncode == 2 and b"--to text" in done.stderr, "wrong usage: --width for a page", done.stderr.decode())


def main():
    sheets.need("cmark")
    bench = ("tests/outputs/bench.wet", "bench")
    for number, (path, process) in enumerate([*sheets.processes(), bench]):
        check_words(process, path, process)
        widths = sorted({*USUAL, *WIDTHS[number % 3::3]}) if IS_PLAIN and number > 0 else WIDTHS if IS_PLAIN else USUAL
        check_widths(process, path, process, widths)
        for width in USUAL if IS_PLAIN else USUAL[1:2]:
            check_strips(process, path, process, width)
    check_words("bench --forecast", *bench, ("--forecast",))
    check_widths("bench --forecast", *bench, (32, 48, 80), ("--forecast",))
    check_words("a run", "examples/black-and-white.wet", "black-and-white", ("--at", "develop=21.5C", "--room", "17C"))
    with tempfile.TemporaryDirectory() as folder:
        check_inert(folder)
    check_usage()
    end()


main()
