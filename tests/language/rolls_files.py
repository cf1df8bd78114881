#!/usr/bin/env python3
"""Every row of a rolls file is a roll of `wetside model --to json`, with what it says, or has a finding in it: whatever stands
in the file. What a row says is read by Python's own csv module, which is not ours."""

import csv
import io
import json
import os
import random
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import expectations  # noqa: E402
import harness  # noqa: E402

# A tank that takes them all, so that nothing has to be packed.
RECIPE = """wetside 1
tank jar { holds 60 L; takes 99 x 135 or 99 x 120; fill 8 s; drain 8 s }
film locker { family C-41 }
solution developer { role developer; hazards H317; waste developer }
solution fixer { role fix; hazards none; waste silver }
process one {
  develops C-41
  tank jar
  step develop in developer at 38 °C for 3:15 { agitate continuously }
  step fix in fixer at 38 °C for 3:15 { agitate continuously }
}
day 2026-03-14 { runs one; rolls from "rolls.csv" }
"""
COLUMNS = ["label", "format", "needs", "origin", "urgent", "condition", "note", "Shelf mark", "push"]
TEXTS = ["Harbour", 'said "no"', "one, two", "line\nline", "line\r\nline", "=cmd()", "+1", "@x", "-2", "žluť", "日本", "\u00a0", "a;b",
         '""', "'", "x" * 300, "{ roll }", "# no comment", "\\n", "null"]
GOOD = {"format": ["135", "120"], "needs": ["C-41"], "urgent": ["", "yes", "X", "1", "no", "0"],
        "condition": ["", "vinegar", "brittle + vinegar", "wet;mould"], "push": ["", "0", "1"]}
BAD = {"format": ["", "36", "135 "[:2]], "needs": ["C-4l", "colour"], "urgent": ["maybe"], "condition": ["mouldy"], "push": ["one", "-1"],
       "label": ["", "  "]}


def row_of(rng, number, is_bad):
    row = {column: rng.choice(GOOD[column]) if column in GOOD else rng.choice(["", *TEXTS]) for column in COLUMNS}
    row["label"] = f"R-{number} {rng.choice(TEXTS)}" if rng.random() < 0.3 else f"R-{number}"
    if is_bad:
        column = rng.choice(sorted(BAD))
        row[column] = rng.choice(BAD[column])
    return row


def written(row, rng, columns, end):
    """A row as it may be written: quotes where they are needed, and sometimes where they are not."""
    out = io.StringIO()
    how = csv.QUOTE_ALL if rng.random() < 0.2 else csv.QUOTE_MINIMAL
    csv.writer(out, lineterminator=end, quoting=how).writerow([row[column] for column in columns])
    return out.getvalue()


def spoilt(text, rng, end):
    """A row that is none: too few or too many fields, quotes in the wrong place, bytes that are no text."""
    body = text[:-len(end)].encode()
    if b'"' in body or b"\n" in body:  # an odd quote there may take the next row with it, and is no mistake of its own row
        return b"only one field" + end.encode()
    return rng.choice([body + b",,,", b"R", body + (b",,,," if body.endswith(b",") else b'"'), body.replace(b",", b',"x"y', 1), body + b"\xff", body + b"\0"]) + end.encode()


def model(folder):
    done = harness.run("model", "--to", "json", "day.wet", cwd=folder, timeout=240)
    return json.loads(done.stdout)["days"][0]["rolls"] if done.returncode == 0 else done.stderr.decode("utf-8", "replace")


def findings(folder):
    done = harness.run("check", "--max-errors=0", "day.wet", cwd=folder)
    found = expectations.findings_of(done.stderr.decode("utf-8", "replace"))
    return done.returncode, [finding for finding in found if finding.severity == "error" and finding.file == "rolls.csv"]


def write(folder, content):
    with open(os.path.join(folder, "rolls.csv"), "wb") as file:
        file.write(content)


def agrees(roll, row):
    """What the model has of a row that stands alone."""
    flag = row["urgent"].lower() in ("yes", "x", "1")
    words = set(row["condition"].replace("+", " ").replace(";", " ").split())
    fields = {field["column"]: field["value"] for field in roll["fields"]}
    push = None if row["push"] in ("", "0") else int(row["push"])
    return (roll["name"] == row["label"].strip(" \t\r\n") and roll["film_format"] == row["format"] and roll["urgent"] == flag
            and (roll["origin"] or "") == row["origin"].strip(" \t\r\n") and set(roll["condition"]) == words
            and (fields["Shelf mark"] or "") == row["Shelf mark"] and (roll["push"] or {}).get("stops") == push
            and "".join(roll["notes"]) == row["note"].strip(" \t\r\n"))


def judge_random(folder, seed):
    rng = random.Random(seed)
    end = rng.choice(["\n", "\r\n"])
    columns = rng.sample(COLUMNS, len(COLUMNS))
    header = [rng.choice([name, name.upper(), f" {name} "]) if name != "Shelf mark" else name for name in columns]
    parts, rows, line = [], [], 2
    for number in range(rng.randrange(1, 30)):
        is_bad = rng.random() < 0.2
        row = row_of(rng, number, is_bad)
        text = written(row, rng, columns, end)
        is_spoilt = rng.random() < 0.1
        body = spoilt(text, rng, end) if is_spoilt else text.encode()
        lines = body.replace(b"\r\n", b"\n").count(b"\n")
        parts.append(body)
        rows.append((range(line, line + lines), row, body, is_bad or is_spoilt))
        line += lines
    head = (b"\xef\xbb\xbf" if rng.random() < 0.5 else b"") + (",".join(header) + end).encode()
    write(folder, head + b"".join(parts))
    status, found = findings(folder)
    lines = {finding.line for finding in found if finding.id not in ("duplicate-label", "wrong-process")}
    hit = [any(number in lines for number in row[0]) for row in rows]
    wrong = [row[2] for row, is_hit in zip(rows, hit) if row[3] != is_hit]
    stray = lines - {number for row in rows for number in row[0]}
    if status not in (0, 1) or wrong or stray:
        return f"seed {seed}: status {status}, findings that are missing or too many: {wrong[:3]}, elsewhere: {sorted(stray)[:3]}"
    good = [row for row, is_hit in zip(rows, hit) if not is_hit and row[1]["push"] in ("", "0")]
    write(folder, head + b"".join(row[2] for row in good))
    rolls = model(folder)
    if isinstance(rolls, str) or len(rolls) != len(good):
        return f"seed {seed}: {len(good)} rows, {rolls if isinstance(rolls, str) else len(rolls)} rolls"
    odd = [row[1] for roll, row in zip(rolls, good) if not agrees(roll, row[1])]
    return f"seed {seed}: not as in the file: {odd[:2]}" if odd else ""


def judge_large(folder):
    count = 10000
    write(folder, b"format,label,needs,origin\r\n" + b"".join(
        b'135,SM-%d,C-41,"Locker %d, ""top"""\r\n' % (number, number % 300) for number in range(count)))
    begin = time.monotonic()
    rolls = model(folder)
    took = time.monotonic() - begin
    harness.check(isinstance(rolls, list) and [roll["name"] for roll in rolls] == [f"SM-{number}" for number in range(count)],
                  f"{count} rows are {count} rolls, in {took:.1f} s", rolls if isinstance(rolls, str) else len(rolls))
    write(folder, b"label,format,needs\n" + b"SM-1,135,C-41\n" * 2000)
    status, found = findings(folder)
    harness.check(status == 1 and [finding.id for finding in found] == ["duplicate-label"] * 1999, "2,000 rows of one label",
                  f"status {status}, {len(found)} findings")


# What stands in the file, and the findings: line, column, id.
WHOLE = [
    ("an empty file", b"", []),  # the finding is at its name in the recipe
    ("a header and nothing else", b"label,format\n", []),
    ("no column for labels", b"format\n135\n", [(1, 1, "missing-clause")]),
    ("no column for formats", b"label\nSM-1\n", [(1, 1, "missing-clause")]),
    ("semicolons", b"label;format\nSM-1;135\n", [(1, 1, "missing-clause")]),
    ("two columns of one name", b"label,format,needs,Label\nSM-1,135,C-41,x\n", [(1, 20, "defined-twice")]),
    ("UTF-16", b"\xff\xfel\0a\0b\0", [(1, 4, "syntax")]),
    ("lines with nothing in them", b"\n\nlabel,format,needs\n\n,,\nSM-1,135,C-41\n\n", []),
    ("carriage returns alone", b"label,format,needs\rSM-1,135,C-4l\rSM-2,135,C-41\r", [(2, 10, "unknown-name")]),
    ("a column far to the right", b'label,note,format\n"SM ""1""","a, b",36\n', [(2, 19, "unknown-name")]),
    ("behind a field of two lines", b'label,note,format\nSM-1,"a\nb",36\n', [(3, 4, "unknown-name")]),
    ("wide characters", "label,note,format\nSM-1,日本,36\n".encode(), [(2, 11, "unknown-name")]),
    ("a quote that nothing closes", b'label,format,needs\n"SM-1,135,C-41\nSM-2,13,C-41\n', [(2, 1, "syntax"), (3, 6, "unknown-name")]),
    ("a field too many", b"label,format,needs\nSM-1,135,C-41,x\n", [(2, 15, "syntax")]),
    ("a reason for nothing", b"label,format,needs,reason\nSM-1,135,C-41,because\n", [(2, 15, "out-of-place")]),
    ("an unknown film", b"label,format,film\nSM-1,135,lockr\nSM-2,135,locker\n", [(2, 10, "unknown-name")]),
    ("a push and a pull", b"label,format,needs,push,pull\nSM-1,135,C-41,1,1\n", [(2, 17, "out-of-place")]),
    ("a length without a unit", b"label,format,needs,length\nSM-1,135,C-41,10\nSM-2,135,C-41,1.5 m\n", [(2, 15, "figure-out-of-range")]),
]


def judge_whole(folder):
    for name, content, wanted in WHOLE:
        write(folder, content)
        status, found = findings(folder)
        places = [(finding.line, finding.column, finding.id) for finding in found]
        harness.check(places == wanted and status == (1 if wanted or not content else 0), name, f"status {status}: {places}")


def judge_unknown(folder):
    """What an archive writes where nobody knows a roll's process is no family: it is led to what can be done."""
    write(folder, b"label,format,needs\nSM-1,135,?\nSM-2,135,unknown\n")
    said = harness.run("check", os.path.join(folder, "day.wet")).stderr.decode()
    harness.check(said.count("explain undecided-roll") == 2, "a process that nobody knows", said)
    harness.check(b"decided by" in harness.run("explain", "undecided-roll").stdout, "and what can be done")


def main():
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "day.wet"), "w", encoding="utf-8") as file:
            file.write(RECIPE)
        judge_whole(folder)
        judge_unknown(folder)
        wrong = [text for text in (judge_random(folder, seed) for seed in range(150)) if text]
        harness.check(not wrong, "150 hostile files: each row is a roll or has a finding", "\n".join(wrong[:5]))
        judge_large(folder)
    harness.end()


main()
