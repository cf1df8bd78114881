#!/usr/bin/env python3
# lasts: 15
"""Every roll of the intake stands exactly once on the load lists, on the hang lists, on the labels and among what is left
over, whatever its label holds; hang lists are load lists backwards; all formats hold the same rolls."""

import csv
import io
import os
import random
import re
import tempfile
import unicodedata

import lockers
import sheets
from harness import WETSIDE, check, end, run


def once(labels, expected, name):
    """True where `labels` are `expected`, each once, in any order."""
    return check(sorted(labels) == sorted(expected), name,
                 lambda: f"wanted {sorted(expected)}\ngot    {sorted(labels)}")


def intake(path):
    """The labels of a day, as the plan has read them: in loads that are done, and among what is left."""
    plan = lockers.data("plan", path)
    done = [place["roll"]["label"] for load in plan["loads"] if load["today"] for place in load["places"]]
    return plan, done + [left["roll"]["label"] for left in plan["left"]]


def check_lists(path, rolls, name):
    plan, labels = intake(path)
    once(labels, [unicodedata.normalize("NFC", roll["label"]) for roll in rolls], f"{name}: the plan has every roll once")
    lists = lockers.data("lists", path)
    left = [one["roll"]["label"] for one in lists["left"]]
    loaded = [one["label"] for load in lists["loads"] for one in load["load_list"]]
    hung = [one["label"] for load in lists["loads"] for one in load["hang_list"]]
    once(loaded + left, labels, f"{name}: load lists and what is left")
    once(hung + left, labels, f"{name}: hang lists and what is left")
    once([one["label"] for one in lists["labels"]], labels, f"{name}: labels")
    backwards = all([one["reel"] for one in load["load_list"]] == list(range(1, len(load["load_list"]) + 1)) and
                    [one["reel"] for one in load["hang_list"]] == list(range(len(load["load_list"]), 0, -1)) and
                    [one["label"] for one in load["hang_list"]] == [one["label"] for one in load["load_list"]][::-1]
                    for load in lists["loads"])
    check(backwards, f"{name}: hang lists are load lists backwards")
    check(lists["rolls"] == len(rolls), f"{name}: their number is said")
    return plan, lists


def shown(label):
    """A label as a page shows it: one line, white space run together, nothing hidden raw."""
    out = []
    for character in unicodedata.normalize("NFC", label):
        kind = unicodedata.category(character)
        if character in "\r\n\t":
            out.append(" ")
        elif kind == "Cf":
            out.append(f"<U+{ord(character):04X}>")
        else:
            out.append(character)
    return " ".join("".join(out).split())


def check_pages(path, lists, name):
    """Both renderings hold every entry of the lists, in the words of the lists; the page's load list stands on its head."""
    page = lockers.ask("lists", "--to", "html", path)
    markdown = sheets.Page(sheets.cmark(lockers.ask("lists", "--to", "markdown", path))).text
    text = sheets.Page(page).text
    for load in lists["loads"]:
        rows = [shown(one["label"]) for one in load["load_list"]]
        hung = [shown(one["label"]) for one in load["hang_list"]]
        head = f"LOAD list, load {load['number']} of {load['of']}"
        parts = [re.split(r"HANG list, load \d+ of \d+", body.split(head, 1)[1], 1) for body in (text, markdown)]
        ends = [re.split(r"After this load|LOAD list|Chemistry account|Labels for", part[1], 1)[0] for part in parts]
        check(in_order(parts[0][0], rows[::-1]), f"{name}: load {load['number']} on the page, the bottom last", parts[0][0])
        check(in_order(parts[1][0], rows), f"{name}: load {load['number']} in CommonMark, in the order of loading",
              parts[1][0])
        check(in_order(ends[0], hung) and in_order(ends[1], hung), f"{name}: load {load['number']}, as it hangs")


def in_order(text, pieces):
    """True where the pieces stand in the text one after the other, each once more than in what lies before it."""
    at = 0
    for piece in pieces:
        at = text.find(piece, at)
        if at < 0:
            return False
        at += len(piece)
    return True


def check_table(path, lists, name):
    text = lockers.ask("lists", "--to", "csv", path)
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    raw = [row["label"] for row in rows]
    labels = [one["label"] for load in lists["loads"] for one in load["load_list"]]
    labels += [one["roll"]["label"] for one in lists["left"]]
    check(len(rows) == len(labels), f"{name}: one row a roll")
    check(all(not re.match(r"[=+\-@\t\r]", cell) for row in rows for key, cell in row.items() if key in ("label", "origin", "shelf")),
          f"{name}: no cell is a formula")
    plain = [label[1:] if re.match(r"'[=+\-@\t\r]", label) else label for label in raw]
    visible = [re.sub(r"[\u202a-\u202e\u2066-\u2069]", lambda m: f"<U+{ord(m[0]):04X}>", label) for label in labels]
    check(plain == visible, f"{name}: the rows are those of the lists", lambda: f"{plain}\n{visible}")
    check("shelf" in rows[0] if rows else True, f"{name}: a column that means nothing here is passed through")


def check_edges(folder):
    """Rolls files of odd shapes, and one of ten thousand rows."""
    chance = random.Random("edges")
    for name, how in {"a byte order mark": {"mark": True}, "line feeds alone": {"line_end": "\n"},
                      "columns in another order": {"columns": lockers.COLUMNS[::-1]},
                      "missing columns": {"columns": ["label", "format", "needs"]}}.items():
        rolls = lockers.rolls(chance, 9)
        check_lists(lockers.write(os.path.join(folder, name), rolls, **how), rolls, name)
    twice = lockers.rolls(chance, 5) + lockers.rolls(chance, 5)
    done = run("lists", lockers.write(os.path.join(folder, "twice"), twice))
    check(done.returncode == 1 and b"[duplicate-label]" in done.stderr and not done.stdout, "a label that is there twice stops the lists")
    many = [{"label": f"R{number}", "format": "135", "needs": "C-41", "note": "set"} for number in range(10000)]
    path = lockers.write(os.path.join(folder, "many"), many, columns=["label", "format", "needs", "note"])
    return path, many


def main():
    sheets.need("cmark")
    with tempfile.TemporaryDirectory() as folder:
        for name, rolls, clauses in lockers.random_days(4 if "/asan/" in WETSIDE else 8, "every roll"):
            title = random.Random(name).choice(lockers.HOSTILE)
            path = lockers.write(os.path.join(folder, name), rolls, title=title, clauses=clauses)
            _, lists = check_lists(path, rolls, name)
            check_pages(path, lists, name)
            check_table(path, lists, name)
        path, many = check_edges(folder)
        if "/asan/" in WETSIDE:  # takes long there, and shows nothing that the others don't
            end()
        lists = lockers.data("lists", path)
        once([one["label"] for one in lists["labels"]], [roll["label"] for roll in many], "ten thousand rolls, each once")
    end()


if __name__ == "__main__":
    main()
