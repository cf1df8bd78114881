#!/usr/bin/env python3
"""The card passes the checkers of others: vnu, html-validate and tidy for the page, ajv and jq for the data against
docs/schemas/mix.schema.json. Every example process under several conditions, and every hostile recipe."""

# builds: plain
# lasts: 20
# timeout: 600

import json
import os
import re
import subprocess
import tempfile

import cards
import sheets
from harness import ROOT, check, end, read, skip

READERS = os.path.join(ROOT, "tests", "cues", "readers.mjs")
SCHEMA = os.path.join(ROOT, "docs", "schemas", "mix.schema.json")


def every_card(folder):
    """(name, form -> text) of all cards."""
    for path, process in sheets.processes():
        for condition, options in cards.CONDITIONS.items():
            yield f"{process} {condition}", lambda form, a=(path, process, options): cards.emit(form, *a)
    for number, (name, payload) in enumerate(sheets.PAYLOADS.items()):
        yield f"hostile {name}", lambda form, a=cards.hostile(folder, number, payload): cards.emit(form, a)


def check_data(name, text):
    value = json.loads(text, parse_constant=lambda word: check(False, f"{name}: no {word}"))
    check(text.endswith("}\n"), f"{name}: the data end in a line feed")
    written = re.findall(r": (-?\d+\.?\d*(?:e-?\d+)?)", text)
    long = [figure for figure in written if repr(float(figure)).removesuffix(".0") != figure]
    check(not long, f"{name}: figures are the shortest that read back the same", long[:5])
    done = subprocess.run(["jq", "-c", "."], input=text.encode("utf-8"), stdout=subprocess.PIPE, check=False)
    check(done.returncode == 0 and json.loads(done.stdout) == value, f"{name}: jq reads the same")


def check_schema(paths):
    """ajv, against the schema and against one that lets no unknown key pass."""
    done = subprocess.run(["node", READERS, "schema", SCHEMA, *paths], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          check=False)
    if done.returncode == 77:
        skip("ajv", done.stderr.decode().strip())
        return
    check(done.returncode == 0, "ajv takes the schema", done.stderr.decode())
    for path, errors in zip(paths, json.loads(done.stdout or "[]")):
        check(errors == [], f"{os.path.basename(path)} fits the schema, no key besides", json.dumps(errors[:5], indent=1))


def words_of(path, macro):
    return re.findall(rf'^{macro}\(\w+, "([^"]+)"', read(path), re.M)


def check_words():
    """The schema's word lists are those of the row files."""
    schema = json.loads(read("docs/schemas/mix.schema.json"))
    bath, act = schema["$defs"]["bath"]["properties"], schema["$defs"]["act"]["properties"]
    check(bath["role"]["enum"] == words_of("src/model/roles.def", "ROLE"), "the schema knows the roles")
    check(act["chemical"]["enum"] == words_of("src/model/chemicals.def", "CHEMICAL") + [None],
          "the schema knows the chemicals")
    families = schema["properties"]["process"]["properties"]["family"]["enum"]
    check(families == words_of("src/model/families.def", "FAMILY") + [None], "the schema knows the process families")


def main():
    sheets.need("node", "jq")
    check_words()
    with tempfile.TemporaryDirectory() as folder:
        pages, data = [], []
        for name, make in every_card(folder):
            pages.append(sheets.write(folder, name, make("html")))
            text = make("json")
            check_data(name, text)
            data.append(pages[-1].removesuffix(".html") + ".json")
            with open(data[-1], "w", encoding="utf-8") as file:
                file.write(text)
        check_schema(data)
        sheets.validate(pages)
    end()


if __name__ == "__main__":
    main()
