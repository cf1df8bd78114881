#!/usr/bin/env python3
"""The products of a day pass the checkers of others: vnu, html-validate and tidy for the pages, ajv and jq for the data
against their schemas, papaparse for the table, cmark for CommonMark. An ordinary day, one with rolls left for tomorrow, an
empty one, and days in which every text is hostile."""

# builds: plain
# lasts: 27

import json
import os
import random
import re
import subprocess
import tempfile

import lockers
import sheets
from harness import ROOT, check, end, read, skip

READERS = os.path.join(ROOT, "tests", "cues", "readers.mjs")


def days(folder):
    """(name, recipe) of the days."""
    chance = random.Random("validators")
    yield "ordinary", lockers.write(os.path.join(folder, "a"), lockers.rolls(chance, 40))
    yield "left for tomorrow", lockers.write(os.path.join(folder, "b"), lockers.rolls(chance, 50),
                                             clauses="finish by 13:00; clock 1 h ahead of utc; clock changes 02:00 to 03:00")
    yield "empty", lockers.write(os.path.join(folder, "c"), [])
    for number in range(2):
        title = lockers.HOSTILE[(7 * number + 9) % len(lockers.HOSTILE)]
        yield f"hostile {number}", lockers.write(os.path.join(folder, f"h{number}"), lockers.rolls(chance, 25, True),
                                                 title=title, clauses="finish by 14:00")


def ask_readers(mode, *files):
    done = subprocess.run(["node", READERS, mode, *files], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    if done.returncode == 77:
        skip(mode, done.stderr.decode().strip())
        return []
    check(done.returncode == 0, f"the reader of {mode} runs", done.stderr.decode())
    return json.loads(done.stdout or "[]")


def words_of(path, macro):
    return re.findall(rf'^{macro}\(\w+, "([^"]+)"', read(path), re.M)


def check_words():
    """The schemas' word lists are those of the row files."""
    plan, lists = json.loads(read("docs/schemas/plan.schema.json")), json.loads(read("docs/schemas/lists.schema.json"))
    of = plan["$defs"]
    check(of["task"]["properties"]["kind"]["enum"] == words_of("src/compute/plan_tasks.def", "PLAN_TASK"), "the kinds of tasks")
    check(of["remedy"]["properties"]["kind"]["enum"] == words_of("src/compute/plan_remedies.def", "PLAN_REMEDY"), "the remedies")
    check(of["solution"]["properties"]["role"]["enum"] == words_of("src/model/roles.def", "ROLE"), "the roles")
    for schema in (plan, lists):
        roll = schema["$defs"]["roll"]["properties"]
        check(roll["format"]["enum"] == words_of("src/model/formats.def", "FORMAT"), "the formats")
        check(roll["needs"]["enum"] == words_of("src/model/families.def", "FAMILY") + [None], "the families")
        check(roll["conditions"]["items"]["enum"] == words_of("src/model/roll_conditions.def", "CONDITION"), "the conditions")
    keys = list(plan["properties"]["resources"]["properties"]["times"]["properties"])
    check(keys == [word.replace(" ", "_") + "_s" for word in words_of("src/model/day_times.def", "DAY_TIME")], "the times")


def check_inert(name, page):
    shown = sheets.Page(page)
    active = [(tag, key) for tag, key, _ in shown.attributes if key.startswith("on") or key == "style"]
    check("script" not in shown.elements and not active, f"{name}: nothing in it can run", active)
    check(all(re.match(r"https?:|mailto:", link) for link in shown.links), f"{name}: no link but to pages", shown.links)


def write(folder, name, extension, text):
    path = os.path.join(folder, re.sub(r"\W+", "-", name) + extension)
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(text)
    return path


def main():
    sheets.need("node", "jq", "cmark")
    check_words()
    with tempfile.TemporaryDirectory() as folder:
        pages, data, tables = [], {"plan": [], "lists": [], "cues": []}, []
        for name, path in days(folder):
            for product in ("plan", "lists"):
                page = lockers.ask(product, "--to", "html", path)
                pages.append(sheets.write(folder, f"{name} {product}", page))
                check_inert(f"{name}, the page of {product}", page)
                check_inert(f"{name}, {product} in CommonMark",
                            sheets.cmark(lockers.ask(product, "--to", "markdown", path), "--unsafe"))
                data[product].append(write(folder, f"{name} {product}", ".json", lockers.ask(product, "--to", "json", path)))
            tables.append(write(folder, name, ".csv", lockers.ask("lists", "--to", "csv", path)))
            if name == "ordinary":
                data["cues"].append(write(folder, "load", ".json", lockers.ask("cues", "--to", "json", "--load", "2", path)))
                pages.append(sheets.write(folder, "sheet", lockers.ask("sheet", "--to", "html", "--load", "2", path)))
        for product, paths in data.items():
            errors = ask_readers("schema", os.path.join(ROOT, "docs", "schemas", f"{product}.schema.json"), *paths)
            for path, found in zip(paths, errors):
                check(found == [], f"{os.path.basename(path)} fits its schema, no key besides", json.dumps(found[:5], indent=1))
                done = subprocess.run(["jq", "-e", ".format"], stdin=open(path, "rb"), stdout=subprocess.PIPE, check=False)
                check(json.loads(done.stdout) == f"wetside-{product}/1", f"{os.path.basename(path)}: jq reads its format")
        for path, found in zip(tables, ask_readers("csv", *tables)):
            check(found["errors"] == [], f"{os.path.basename(path)}: papaparse reads the table", found["errors"][:3])
        sheets.validate(pages)
    end()


if __name__ == "__main__":
    main()
