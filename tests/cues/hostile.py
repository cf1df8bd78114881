#!/usr/bin/env python3
"""Texts from a recipe do nothing in a cue list, whatever they hold: no command, no markup, no formula, no cursor
movement, no line or caption of their own. Each payload is the title of everything that may have one, and a note
everywhere."""

import json
import os
import re
import shutil
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "hostile"))

import read_back
import strings
from conformance import node
from harness import check, end, run

RECIPE = """wetside 1
allow no-hazards-declared {1}
allow no-waste-route {1}
tank small {0} {{ holds 1 L; takes 4 x 135; note {0} }}
graduate jug {0} {{ holds 2 L; note {0} }}
thermometer no-2 {0} {{ reads 0.1 °C; correction -0.2 °C; note {0} }}
dryer cabinet {0} {{ takes 16 rolls; for 2 h; note {0} }}
solution soup {0} {{ role developer; one-shot; note {0} }}
solution hypo {0} {{ role fix; reuse; note {0} }}
process hostile {0} {{
  develops black-and-white-negative
  tank small
  thermometer no-2
  load 1 rolls
  note {0}
  step develop in soup at 20 ± 0.5 °C for 8:00 {{
    agitate first 30 s, then 10 s every 1:00
    tap 2 after agitation
    note {0}
  }}
  step fix in hypo at 18 .. 24 °C for 5:00 .. 10:00 {{ agitate first 30 s; note {0} }}
  step wash in running water at 18 .. 24 °C for at least 10:00 {{ note {0} }}
  step dry in cabinet for 2 h {{ note {0} }}
}}
"""

# The shape of each format stays, whatever these are; that the texts are in it is the matter of tests/hostile.
PAYLOADS = dict(strings.some(
    "command substitution", "quotes", "newlines", "line separators", "script", "end of CDATA", "caption", "caption settings",
    "comment block", "formula", "formula with plus", "formula with minus", "formula with at", "formula behind a tab", "separators",
    "controls", "C1 controls", "direction", "invisible", "references", "long word", "long text", "many wide", "combining", "escapes"),
    empty="")
HIDDEN, quoted = strings.HIDDEN, strings.quoted


def outputs_of(folder, payload):
    path = os.path.join(folder, "recipe.wet")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(RECIPE.format(quoted(payload), quoted(payload or "a reason cannot be empty")))
    return {form: read_back.emit(path, "cues", form, cwd=folder) for form in read_back.FORMATS}


def check_common(name, outputs, usual):
    for form in read_back.FORMATS:
        cues = read_back.READERS[form](outputs[form])
        check(cues == read_back.READERS[form](usual[form]), f"{name}: {form} holds the cues of a tame recipe")
        text = outputs[form].decode("utf-8")
        if form == "csv":
            text = text.replace("\r\n", "\n")
        found = HIDDEN.search(text)
        check(not found, f"{name}: {form} holds no control or hidden character", found and ascii(found.group()))


def check_text(name, data):
    long = [line for line in data.decode("utf-8").split("\n") if columns(line) > 80]
    check(not long, f"{name}: text keeps within 80 columns", long[:1])


def columns(line):
    """Columns on a terminal; the payloads hold no character that the simple rule gets wrong."""
    return sum(2 if "\u1100" <= letter <= "\uffe6" else 0 if letter == "\u0301" else 1 for letter in line)


def check_csv(name, data):
    figures = re.compile(r"^-?[\d.:]+$")
    rows = read_back.csv_rows(data)
    formulas = [cell for row in rows for cell in row.values()
                if cell[:1] in tuple("=+-@\t\r") and not figures.match(cell)]
    check(not formulas, f"{name}: no cell of csv is a formula", formulas[:3])


def check_json(name, data, payload):
    title = json.loads(data)["process"]["title"]
    wanted = payload.replace("\r\n", "\n").replace("\r", "\n") or None
    check(title == wanted, f"{name}: json gives the title back as it is", ascii(title)[:200])


def check_vtt(folder, payload_of):
    """All at once through the W3C parser."""
    names = sorted(payload_of)
    said = node("vtt", *(os.path.join(folder, f"{number}.vtt") for number in range(len(names))))
    for name, read in zip(names, said or []):
        check(read["errors"] == [], f"{name}: the W3C parser finds no error", json.dumps(read["errors"][:3]))


def check_names(folder):
    """What is no name is no recipe: nothing comes out."""
    for name in ("=1+1", "$(touch hit)", "`touch hit`", "a<script>", "a b", '"a"', "-->", "a\u202eb"):
        path = os.path.join(folder, "name.wet")
        with open(path, "w", encoding="utf-8") as file:
            file.write(RECIPE.format('"x"', '"x"').replace("process hostile", f"process {name}"))
        for form in read_back.FORMATS:
            done = run("cues", "--to", form, path, cwd=folder)
            check(done.returncode == 1 and done.stdout == b"" and done.stderr != b"",
                  f"the name {ascii(name)}: exit 1 and no {form}", f"{done.returncode} {done.stdout[:200]}")


def check_hidden_in_name(folder):
    """A letter that nobody sees is shown in what people read, and comes back whole from what programs read."""
    name = "so\u061cup"
    path = os.path.join(folder, "hidden.wet")
    with open(path, "w", encoding="utf-8") as file:
        file.write(RECIPE.format('"x"', '"x"').replace("soup", name))
    for form in read_back.FORMATS:
        data = read_back.emit(path, "cues", form, cwd=folder).decode("utf-8")
        check("\u061c" not in data, f"a hidden letter in a name does not pass into {form}")
        shown = "so\\u061Cup" if form == "json" else "so&lt;U+061C&gt;up" if form == "vtt" else "so<U+061C>up"
        check(shown in data, f"{form} shows the hidden letter of a name", data[:400])


def main():
    if not shutil.which("node"):
        print("node is not installed")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        usual = outputs_of(folder, "tame")
        for number, name in enumerate(sorted(PAYLOADS)):
            payload = PAYLOADS[name]
            outputs = outputs_of(folder, payload)
            check_common(name, outputs, usual)
            check_text(name, outputs["text"])
            check_csv(name, outputs["csv"])
            check_json(name, outputs["json"], payload)
            with open(os.path.join(folder, f"{number}.vtt"), "wb") as file:
                file.write(outputs["vtt"])
        check_vtt(folder, PAYLOADS)
        check_names(folder)
        check_hidden_in_name(folder)
        check(not os.path.exists(os.path.join(folder, "hit")), "nothing was run")
    end()


if __name__ == "__main__":
    main()
