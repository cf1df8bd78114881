#!/usr/bin/env python3
"""The model and the differences as data: ajv against docs/schemas, figures that are exact and as short as they can be,
keys in one order, and texts of a recipe that do nothing in any format, whatever they hold."""

# builds: plain asan

import json
import os
import re
import subprocess
import sys
import tempfile

import edit_table
import recipes
from harness import ROOT, check, end, run, skip

sys.path.insert(0, os.path.join(ROOT, "tests", "cues"))
sys.path.insert(0, os.path.join(ROOT, "tests", "sheet"))
import hostile  # noqa: E402
import sheets  # noqa: E402

READERS = os.path.join(ROOT, "tests", "cues", "readers.mjs")


def check_schema(kind, documents, spoilt):
    """ajv takes every document and, so that it is known to look, none of the spoilt ones."""
    schema = os.path.join(ROOT, "docs", "schemas", f"{kind}.schema.json")
    with tempfile.TemporaryDirectory() as folder:
        paths = [recipes.write(folder, f"{number}.json", text) for number, text in enumerate([*documents.values(), *spoilt])]
        done = subprocess.run(["node", READERS, "schema", schema, *paths], stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, check=False)
    if done.returncode == 77:
        skip("ajv", done.stderr.decode().strip())
        return
    check(done.returncode == 0, f"ajv takes the schema of {kind}", done.stderr.decode())
    errors = json.loads(done.stdout or "[]")
    for name, wrong in zip(documents, errors):
        check(wrong == [], f"{kind}: {name} fits the schema, no key besides", json.dumps(wrong[:5], indent=1))
    for wrong in errors[len(documents):]:
        check(wrong != [], f"{kind}: a spoilt document does not fit")


def check_figures(name, text):
    json.loads(text, parse_constant=lambda word: check(False, f"{name}: no {word}"))
    check(text.endswith("}\n"), f"{name}: ends in a line feed")
    written = re.findall(r'": (-?\d+\.?\d*(?:e-?\d+)?)', text)
    long = [figure for figure in written if repr(float(figure)).removesuffix(".0") != figure]
    check(not long, f"{name}: figures are the shortest that read back the same", long[:5])


def check_exact():
    """What is declared comes back to the last figure; degrees Fahrenheit by (F - 32) / 1.8, ounces by NIST SP 811."""
    text = recipes.edited([("for 8:00 {", "for 480.125 s {"), ("developer at 20 ± 0.5", "developer at 20.125 ± 0.375"),
                           ("metol 2 g", "metol 2.000125 g"), ("hydroquinone 5 g", "hydroquinone 0.2 oz"),
                           ("stop-bath at 20 ± 2 °C", "stop-bath at 68.5 ± 3 °F"), ("pH 5.2", "pH 5.201")])
    value = json.loads(run("model", "-", stdin=text.encode()).stdout)
    steps, solutions = value["processes"][0]["steps"], {each["name"]: each for each in value["solutions"]}
    parts = {part["chemical"]: part for part in solutions["stock"]["parts"]}
    found = (steps[0]["time"]["min_s"], steps[0]["at"]["nominal_c"], steps[0]["at"]["low_c"],
             parts["metol"]["amount"]["mass_g"], parts["hydroquinone"]["amount"]["mass_g"], solutions["fixer"]["ph"]["ph"])
    check(found == (480.125, 20.125, 19.75, 2.000125, 5.669904625, 5.201), "figures are exact", found)
    found = steps[1]["at"]["nominal_c"], steps[1]["at"]["low_c"]
    check(all(abs(a - b) < 1e-12 for a, b in zip(found, ((68.5 - 32) / 1.8, (65.5 - 32) / 1.8))), "and in °F", found)


def keys(value):
    """Every order in which the keys of an object stand, by which keys they are."""
    if isinstance(value, list):
        return [order for each in value for order in keys(each)]
    if isinstance(value, dict):
        return [tuple(value), *(order for each in value.values() for order in keys(each))]
    return []


def check_order(documents):
    orders = {}
    for text in documents.values():
        for order in keys(json.loads(text)):
            orders.setdefault(frozenset(order), set()).add(order)
    check(all(len(each) == 1 for each in orders.values()), "keys stand in one order",
          [each for each in orders.values() if len(each) > 1])


def hostile_recipes():
    for name, payload in {**hostile.PAYLOADS, **sheets.PAYLOADS}.items():
        if payload:
            text = hostile.quoted(payload)
            recipe = hostile.RECIPE.format(text, '"a reason"').replace("reuse; note", 'reuse; kit makes 1 L, powder; mix { '
                                                                       f"water 500 mL; add {text}; top up }}; note", 1)
            yield name, hostile.RECIPE.format('"plain"', '"a reason"'), recipe


def check_inert(name, text, product):
    hidden = hostile.HIDDEN.findall(text.replace("\n", ""))
    check(not hidden, f"{product}: {name}: no hidden character", [hex(ord(each)) for each in hidden])
    if product.endswith("markdown"):
        page = sheets.cmark(text)
        wrong = re.findall(r"<(?!/?(?:h[1-6]|ul|li|p|strong)>)[^>]*>", page)
        check(not wrong and "raw HTML" not in page, f"{product}: {name}: no markup of its own", wrong[:3])


def check_lines(name, text):
    """A text of several lines takes no line of its own: those there are begin as the program begins them."""
    heads = ("hostile", "  wording only:", "  bath ", "  tank ", "    ", "  develop", "  fix", "  wash", "  dry",
             "  thermometer", "  dryer", "  graduate", "  title", "  note", "  the whole file")
    wrong = [line for line in text.splitlines() if not line.startswith(heads)]
    check(not wrong, f"diff --to text: {name}: one line each", wrong[:3])


def judge_hostile(folder, models, diffs):
    for number, (name, plain, recipe) in enumerate(hostile_recipes()):
        old = recipes.write(folder, f"plain-{number}.wet", plain)
        new = recipes.write(folder, f"hostile-{number}.wet", recipe)
        for form in ("json", "text"):
            done = run("model", "--to", form, new)
            text = done.stdout.decode()
            check(done.returncode == 0 and text, f"model --to {form}: {name}", done.stderr.decode())
            check_inert(name, text, f"model --to {form}")
            if form == "json":
                models[f"hostile {name}"] = text
        for form in ("json", "text", "markdown"):
            status, text = recipes.diff(old, new, "--to", form)
            check(status == 1 and text, f"diff --to {form}: {name}", text)
            check_inert(name, text, f"diff --to {form}")
            if form == "json":
                diffs[f"hostile {name}"] = text
            if form == "text":
                check_lines(name, text)


def main():
    sheets.need("node", "cmark")
    models, diffs = {}, {}
    for path in [recipes.BASE_PATH, *(f"examples/{name}" for name in sorted(os.listdir(os.path.join(ROOT, "examples")))
                                     if name.endswith(".wet"))]:
        models[path] = run("model", path).stdout.decode()
        check(run("model", path).stdout.decode() == models[path], f"{path}: the same bytes again")
    with tempfile.TemporaryDirectory() as folder:
        for number, (name, edits, *_) in enumerate(edit_table.EDITS):
            other = recipes.write(folder, f"{number}.wet", recipes.edited(edits))
            diffs[name] = recipes.diff(recipes.BASE_PATH, other, "--to", "json")[1]
        judge_hostile(folder, models, diffs)
    for name, text in {**models, **diffs}.items():
        check_figures(name, text)
    check_order(models)
    check_order(diffs)
    check_exact()
    base = models[recipes.BASE_PATH]
    check_schema("model", models, [base.replace('"min_s": 480', '"min_s": "480"', 1), base.replace('"holds"', '"held"', 1)])
    one = diffs["a longer time"]
    check_schema("diff", diffs, [one.replace('"run"', '"walk"', 1), one.replace('"is_moved"', '"was_moved"', 1)])
    end()


if __name__ == "__main__":
    main()
