#!/usr/bin/env python3
"""Texts from a recipe do nothing in a forecast, whatever they hold: no markup in the picture, no formula in csv, no cursor
movement or line of their own in text. The payloads are those of the cue lists."""

import json
import os
import re
import sys
import tempfile
import xml.etree.ElementTree as tree

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "cues")]

import formats  # noqa: E402
import read_back  # noqa: E402
from harness import check, end, run  # noqa: E402
from hostile import HIDDEN, PAYLOADS, quoted  # noqa: E402

RECIPE = """wetside 1
tank small {0} {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s; cools 20 °C to 19 °C within 10:00 in a room at 15 °C
  absorbs 60 mL; note {0} }}
thermometer no-2 {0} {{ reads 0.1 °C; correction -0.2 °C; note {0} }}
solution soup {0} {{ role developer; one-shot; dilute 1+4; hazards none; waste developer; note {0} }}
solution hypo {0} {{ role fix; reuse; dilute 1+4; hazards none; waste silver; note {0} }}
process {1} {0} {{
  develops black-and-white-negative
  tank small
  thermometer no-2
  room 15 °C
  allow drift-leaves-window "it is to be seen"
  note {0}
  step {2} in soup at 20 ± 0.2 °C for 8:00 {{ coefficient 9 % per K; agitate first 30 s, then 10 s every 1:00; note {0} }}
  step fix in hypo at 18 .. 24 °C for 5:00 .. 10:00 {{ agitate first 30 s; note {0} }}
}}
"""


def made(payload, process="film", step="develop"):
    """The forecast in every format."""
    recipe = RECIPE.format(quoted(payload), process, step).encode()
    found = {}
    for form in formats.FORMATS:
        done = run("forecast", "--to", form, "-", stdin=recipe)
        if not check(done.returncode == 0, f"{form} of {ascii(payload)[:40]} is made", done.stderr.decode()):
            return None
        found[form] = done.stdout
    return found


def shape(data):
    """The elements and attributes of a picture, without texts and coordinates."""
    return [(element.tag, sorted(element.attrib)) for element in tree.fromstring(data).iter()]


def without_titles(value):
    value["process"]["title"] = value["fingerprint"] = None
    return value


def compare(name, payload, tame, found):
    for form, data in found.items():
        text = data.decode("utf-8").replace("\r\n", "\n")
        hidden = HIDDEN.search(text)
        check(not hidden, f"{name}: {form} holds no control or hidden character", hidden and ascii(hidden.group()))
    check(shape(found["svg"]) == shape(tame["svg"]), f"{name}: the picture is that of a tame recipe")
    value = json.loads(found["json"])
    check(value["process"]["title"] == (payload.replace("\r\n", "\n").replace("\r", "\n") or None),
          f"{name}: json gives the title back as it is")
    check(without_titles(value) == without_titles(json.loads(tame["json"])), f"{name}: and the figures of a tame recipe")
    rows, tame_rows = read_back.csv_rows(found["csv"]), read_back.csv_rows(tame["csv"])
    for row in rows + tame_rows:
        row["fingerprint"] = ""
    check(rows == tame_rows, f"{name}: csv holds the rows of a tame recipe")
    lines, tame_lines = (product["text"].decode().split("\n") for product in (found, tame))
    check(lines[-20:] == tame_lines[-20:], f"{name}: text ends as that of a tame recipe")


def main():
    tame = made("tame")
    for name in sorted(PAYLOADS):
        found = made(PAYLOADS[name])
        if found:
            compare(name, PAYLOADS[name], tame, found)
    long = "w" * 150
    found = made("long names", long, "s" * 120)
    if found:
        wide = [line for line in found["text"].decode().split("\n") if len(line) > 80]
        check(not wide, "long names: text keeps within 80 columns", wide[:1])
        check(shape(found["svg"]) == shape(tame["svg"]), "long names: the picture is that of short ones")
        check("s" * 30 not in re.sub(r"<(title|desc).*?</\1>", "", found["svg"].decode(), flags=re.S), "long names are cut there")
    found = made("hidden", "fi\u061clm", "de\u061cvelop")
    if found:
        for form, data in found.items():
            shown = "\\u061C" if form == "json" else "&lt;U+061C&gt;" if form == "svg" else "<U+061C>"
            check(shown in data.decode() and "\u061c" not in data.decode(), f"{form} shows the hidden letter of a name")
    with tempfile.TemporaryDirectory() as folder:
        done = run("forecast", "-o", os.path.join(folder, "out.svg"), "--to", "svg", "-", cwd=folder,
                   stdin=RECIPE.format(quoted("$(touch hit) `touch hit`"), "film", "develop").encode())
        check(done.returncode == 0 and os.listdir(folder) == ["out.svg"], "nothing is run, and one file is written",
              os.listdir(folder))
    end()


if __name__ == "__main__":
    main()
