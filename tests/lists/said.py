#!/usr/bin/env python3
# lasts: 5
"""What is said of a roll (what it needs, that it is developed as something else, who decided that and why, its title, notes,
what is allowed for it) stands in every output that names rolls, and in a log and its review, with nothing but the log at hand.
Logs of the version before, and logs with fields of a later one, are read."""

import csv
import io
import json
import os
import re
import subprocess
import tempfile

import lockers
import sheets
from harness import check, end

COLUMNS = ["label", "title", "format", "exposures", "needs", "develop as", "reason", "decided by", "condition", "made", "note",
           "shelf", "allowed"]
ROWS = [
    {"label": "SM-1", "title": "Harbour, *summer*", "format": "135", "exposures": "24", "needs": "C-22",
     "develop as": "black-and-white-negative", "reason": '=no "baths", or none left', "decided by": "K,M",
     "condition": "vinegar acetate", "made": "1971", "note": "two\nlines and a\ttab", "shelf": "7-1", "allowed": "by nobody"},
    {"label": "SM-2", "format": "135", "develop as": "black-and-white-negative", "reason": "a guess.", "decided by": "@LT"},
    {"label": "SM-3", "format": "135", "needs": "black-and-white-negative"},
]
DECLARED = """
roll SM-4 "Keeper's own" {
  format 135; needs black-and-white-negative; condition brittle
  allow brittle-or-shrunk "steel reel, *by hand*"
  note "First."
  note "+Second."
}
roll SM-5 { format 135; set aside "-clip first" }
"""
NOTHING = {"roll_title": "", "needs": "", "develop_as": "", "develop_reason": "", "decided_by": "", "note": "", "allowed": ""}
# What was written above, without its markup and in one line.
SAID = {
    "SM-1": {**NOTHING, "roll_title": "Harbour, summer", "needs": "C-22", "develop_as": "black-and-white-negative",
             "develop_reason": '=no "baths", or none left', "decided_by": "K,M", "note": "two lines and a tab"},
    "SM-2": {**NOTHING, "develop_as": "black-and-white-negative", "develop_reason": "a guess.", "decided_by": "@LT"},
    "SM-3": {**NOTHING, "needs": "black-and-white-negative"},
    "SM-4": {**NOTHING, "roll_title": "Keeper's own", "needs": "black-and-white-negative", "note": "First. +Second.",
             "allowed": "brittle-or-shrunk: steel reel, by hand"},
    "SM-5": NOTHING,
}
CONDITIONS = {"SM-1": "acetate vinegar", "SM-4": "brittle"}
SENTENCES = {
    "SM-1": 'made for C-22, developed as black-and-white-negative: =no "baths", or none left; decided by K,M. two lines and a tab',
    "SM-2": "made for a process that nobody knows, developed as black-and-white-negative: a guess.; decided by @LT.",
    "SM-4": "allowed: brittle-or-shrunk: steel reel, by hand. First. +Second.",
}


def guarded(text):
    """As a cell of a table that no spreadsheet takes for a formula."""
    return "'" + text if text[:1] in ("=", "+", "-", "@") else text


def cells(row):
    return {name: row.get(name) for name in NOTHING}


def table(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


def check_kept(path):
    words = sheets.Page(sheets.cmark(lockers.ask("plan", "--to", "markdown", path))).text
    check("soup: 1 L to mix, in 1 mix: 1 L at 09:00. When the day is over, nothing of it is kept." in words.replace("\u00a0", " ") and
          "is left and has done 3.667 rolls" in words.replace("\u00a0", " "), "what is left of a bath is said where it is kept", words)


def check_lists(path):
    rows = {row["label"]: row for row in table(lockers.ask("lists", "--to", "csv", path))}
    for label, said in SAID.items():
        check(cells(rows[label]) == {name: guarded(text) for name, text in said.items()}, f"the lists' CSV, {label}", rows[label])
    first = rows["SM-1"]
    check((first["exposures"], first["made"], first["shelf"], first["allowed (rolls file)"]) == ("24", "1971", "7-1", "by nobody"),
          "and what else the rolls file had", first)
    check(rows["SM-5"]["set_aside"] == "'-clip first", "why a roll is set aside", rows["SM-5"])
    lists, plan = lockers.data("lists", path), lockers.data("plan", path)
    entries = [one for load in lists["loads"] for kind in ("load_list", "hang_list") for one in load[kind]]
    placed = [place["roll"] for load in plan["loads"] for place in load["places"]]
    cues = lockers.data("cues", path, "--load", "1")["load"]["rolls"]
    for name, rolls in (("the lists' JSON", entries), ("the plan's JSON", placed), ("cues of a load as JSON", cues)):
        told = {roll["label"]: roll for roll in rolls}
        check(set(told) == set(SAID) - {"SM-5"}, f"{name} has every roll", sorted(told))
        check((told["SM-1"]["title"], told["SM-1"]["needs"], told["SM-1"]["develop_as"], told["SM-1"]["develop_reason"],
               told["SM-1"]["decided_by"], told["SM-1"]["conditions"], told["SM-1"]["notes"]) ==
              ("Harbour, *summer*", "C-22", "black-and-white-negative", '=no "baths", or none left', "K,M",
               ["acetate", "vinegar"], ["two\nlines and a\ttab"]), f"{name}, as it was written", told["SM-1"])
        check(told["SM-2"]["needs"] is None and told["SM-2"]["decided_by"] == "@LT", f"{name}: nobody knows what it was made for",
              told["SM-2"])
        check(told["SM-4"]["allowed"] == [{"check": "brittle-or-shrunk", "reason": "steel reel, *by hand*"}] and
              told["SM-4"]["notes"] == ["First.", "+Second."] and told["SM-3"]["allowed"] == [], f"{name}: what is allowed",
              told["SM-4"])
    text = sheets.Page(sheets.cmark(lockers.ask("lists", "--to", "markdown", path))).text
    for half in re.split("LOAD list|HANG list", text)[1:3]:
        rows = dict(re.findall(r"(SM-\d) (.*?)(?= SM-\d|☐)", half.split("After this load")[0]))
        check({label: "†" in row for label, row in rows.items()} == {"SM-1": True, "SM-2": True, "SM-3": False, "SM-4": True} and
              "† more at the end." in half, "load list and hang list point to what is said", half)
    stickers = dict(re.findall(r"(SM-\d): (.*?)(?=SM-\d|$)", text.split("Labels for rolls")[-1].split("Labels for bottles")[0]))
    check([stickers[label].rstrip().endswith(words) for label, words in
           (("SM-1", "grey; made for C-22"), ("SM-2", "grey; made for an unknown process"), ("SM-3", "grey"))] == [True] * 3,
          "stickers of film that is not developed as what it was made for say so", stickers)
    check(stickers["SM-5"].rstrip() == "not developed, 135; set aside: -clip first", "a roll that is left has its reason on it", stickers)
    said = text.split("Said of single rolls")[-1]
    for label, sentence in SENTENCES.items():
        check(sentence in said, f"the printed lists, {label}", said)


def log_of(folder, path):
    timer, log, clock = (os.path.join(folder, name) for name in ("timer.sh", "run.log", "clock"))
    lockers.ask("timer", "--load", "1", "-o", timer, path)
    with open(clock, "w", encoding="ascii") as file:
        file.write("100.00\n")
    done = subprocess.run(["sh", timer, "--clock-file", clock, "--log", log], stdin=subprocess.DEVNULL, timeout=60, check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    check(done.returncode == 0, "the timer of the load runs to its end", done.stdout)
    with open(log, encoding="utf-8") as file:
        return log, [line.rstrip("\n").split("\t") for line in file]


def check_log(path, lines):
    order = ["roll_title", "needs", "develop_as", "develop_reason", "decided_by", "note", "allowed"]
    rolls = {line[2]: line for line in lines if line[0] == "roll"}
    for label in set(SAID) - {"SM-5"}:
        wanted = [CONDITIONS.get(label) or "-"] + [SAID[label][name] or "-" for name in order]
        check(rolls[label][8:] == wanted, f"the log, {label}", lambda wanted=wanted, label=label: f"{rolls[label]}\n{wanted}")
    page = lockers.ask("live", "--load", "1", path)
    data = json.loads(re.search(r'<script type="application/json" id="plan">(.*?)</script>', page, re.DOTALL).group(1))
    check([line for line in data["head"] if line[0] == "roll"] == [line for line in lines if line[0] == "roll"],
          "the live page writes the same", data["head"])


def check_review(log):
    rows = {row["label"]: row for row in table(lockers.ask("review", "--to", "csv", log))}
    told = {roll["label"]: roll for roll in json.loads(lockers.ask("review", "--to", "json", log))["runs"][0]["rolls"]}
    words = sheets.Page(sheets.cmark(lockers.ask("review", log))).text
    for label in set(SAID) - {"SM-5"}:
        said, conditions = SAID[label], CONDITIONS.get(label, "")
        check(cells(rows[label]) == {name: guarded(text) for name, text in said.items()} and
              rows[label]["conditions"] == conditions, f"the catalogue's row, {label}", rows[label])
        check({name: told[label][name.removeprefix("roll_")] or "" for name in NOTHING} == said and
              (told[label]["conditions"] or "") == conditions, f"the review's data, {label}", told[label])
        check(SENTENCES.get(label, "") in words, f"the review to read, {label}", words)
    check("SM-3, 135, three nicks in the tail reel 4" in words, "nothing is said where nothing was", words)
    check(all(row["day_title"] == "Locker 7" for row in rows.values()), "and the name of the day", rows)


def written(folder, lines):
    path = os.path.join(folder, "changed.log")
    with open(path, "w", encoding="utf-8") as file:
        file.writelines("\t".join(line) + "\n" for line in lines)
    return path


def reviewed(log):
    """The review as data, without the name of the file."""
    data = json.loads(lockers.ask("review", "--to", "json", log))
    del data["runs"][0]["log"]
    return data


def check_other_versions(folder, log, lines):
    now = reviewed(log)
    before = reviewed(written(folder, [line[:8] if line[0] == "roll" else line for line in lines]))
    check(before["runs"][0]["unread_lines"] == 0 and before["on_hand"] == now["on_hand"] and
          before["runs"][0]["steps"] == now["runs"][0]["steps"], "a log of the version before is read", before["runs"][0]["rolls"])
    silent = ["conditions", "title", "needs", "develop_as", "develop_reason", "decided_by", "note", "allowed"]
    check([[roll["label"], roll["mark"]] for roll in before["runs"][0]["rolls"]] ==
          [[roll["label"], roll["mark"]] for roll in now["runs"][0]["rolls"]] and
          all(roll[name] is None for roll in before["runs"][0]["rolls"] for name in silent), "and says of its rolls what it knows",
          before["runs"][0]["rolls"])
    for count in (1, 30):
        longer = [line + ["later"] * count for line in lines]
        check(reviewed(written(folder, longer)) == now, f"{count} fields more on every line, of a later version, change nothing")


def main():
    folder = tempfile.mkdtemp(prefix="said")
    path = lockers.write(folder, ROWS, columns=COLUMNS, title="Locker 7")
    with open(path, "a", encoding="utf-8") as file:
        file.write(DECLARED)
    check_lists(path)
    check_kept(path)
    log, lines = log_of(folder, path)
    check_log(path, lines)
    check_review(log)
    check_other_versions(folder, log, lines)
    end()


if __name__ == "__main__":
    main()
