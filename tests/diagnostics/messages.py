#!/usr/bin/env python3
"""The text format, by the conventions D1 to D19 that it keeps: over the recipes of the language and checks suites, and on
sources made for one of them each."""

import os
import re
import sys
import tempfile
import unicodedata

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import expectations, harness, options_of, put, recipes  # noqa: E402

PLACE = re.compile(r"^(?P<file>\S.*?):(?P<line>\d+):(?P<column>\d+): (?P<kind>error|warning|hint|note): (?P<text>.*)$")
EXCERPT = re.compile(r"^ *\d+ \| ")
RANGE = re.compile(r"^       \| +\^~*$")
HELP = re.compile(r"^  help = \S")
COUNT = re.compile(r"^wetside: (\d+ (error|warning|hint)s?(, )?)+(; \d+ of \d+ shown)?$")


def messages(*words, **more):
    return harness.run("check", *words, **more).stderr.decode("utf-8").splitlines()


def check_source(folder, text, *words):
    put(folder, "a.wet", text)
    return messages(*words, "a.wet", cwd=folder)


def misshapen(lines):
    """Lines that break the layout: place, excerpt, range, then help; notes likewise, without help."""
    wrong, index = [], 0
    while index < len(lines):
        if COUNT.match(lines[index]) and index == len(lines) - 1:
            break
        match = PLACE.match(lines[index])
        if not match:
            return wrong + [f"no place: {lines[index]}"]
        if match["kind"] != "note" and not match["text"].endswith("]"):
            wrong.append(f"no check: {lines[index]}")
        said = re.sub(r" \[[a-z0-9-]+\]$", "", match["text"])
        if said.endswith(".") or said[0].isupper() and not said.split()[0].isupper():
            wrong.append(f"D1: {lines[index]}")
        index += 1
        if match["text"] != "used from here":
            if not EXCERPT.match(lines[index]) or not RANGE.match(lines[index + 1]):
                wrong.append(f"no excerpt: {lines[index - 1]}")
            index += 2
        if index < len(lines) and HELP.match(lines[index]):
            if match["kind"] == "note":
                wrong.append(f"help of a note: {lines[index]}")
            index += 1
    return wrong


def columns(text):
    """Columns on a screen by Python's tables; tabs are none here."""
    return sum(0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in text)


def judge_layout():
    wrong = {}
    for path in recipes():
        lines = messages("--max-errors", "0", *options_of(path), path)
        wrong.update({f"{path}: {problem}": 1 for problem in misshapen(lines)})
        for index, line in enumerate(lines):
            match = PLACE.match(line)
            if match and RANGE.match(lines[index + 2] if index + 2 < len(lines) else ""):
                shown, mark = lines[index + 1][9:], lines[index + 2][9:]
                if "…" in shown[:2] or "\ufffd" in shown:
                    continue
                if mark.index("^") + 1 != int(match["column"]):
                    wrong[f"D3: {path}: {line}"] = 1
                if columns(shown) < mark.index("^"):
                    wrong[f"D3: behind its line: {path}: {line}"] = 1
    harness.check(not wrong, "D1, D3, D5: every message has the same layout, its mark under what it means", "\n".join(wrong))


def judge_places(folder):
    lines = check_source(folder, "wetside 1\ntank t {\n\tholds 1 L;\tfill 0,5 s # 現像\n}\n")
    harness.check(lines[0].startswith("a.wet:3:30: ") and lines[1].index("0,5") == lines[2].index("^"),
                  "D2, D3: tabs stop every 8 columns", lines)
    lines = check_source(folder, 'wetside 1\ntank t "現像" { holds 1 L; fill 0,5 s }\n')
    wide = lines[1][:lines[1].index("0,5")]
    harness.check(columns(wide) == lines[2].index("^") and lines[0].startswith("a.wet:2:33: "), "D2, D3: wide characters take two", lines)
    long = "tank t { note \"" + "x" * 300 + "\"; fill 0,5 s; note \"" + "y" * 300 + "\" }"
    lines = check_source(folder, f"wetside 1\n{long}\n")
    harness.check(len(lines[1]) < 190 and lines[1].count("…") == 2 and lines[1][lines[2].index("^"):].startswith("0,5"),
                  "D3: a long line is cut on both sides, with a mark", lines)
    done = harness.run("check", "absent.wet", cwd=folder)
    harness.check(done.stderr.startswith(b"wetside: ") and done.returncode == 2, "D1: without a place it begins with the program's name")


def judge_counts(folder):
    planted = ["  hodls 600 mL", "  takes 1,5 x 135", "  fill 6 parsec", "  drain .5 s", "  emptied trough lid", "  carries 1:3"]
    lines = check_source(folder, "wetside 1\ntank t {\n" + "\n".join(planted) + "\n}\n")
    found = expectations.findings_of("\n".join(lines))
    harness.check([finding.line for finding in found] == [3, 4, 5, 6, 7, 8], "D6, D7: six mistakes, six messages", lines)
    for number, line in enumerate(planted):
        lines = check_source(folder, f"wetside 1\ntank t {{\n  holds 600 mL\n{line}\n}}\nprocess p {{ tank t }}\n")
        found = [finding for finding in expectations.findings_of("\n".join(lines)) if finding.line == 4]
        harness.check(len(found) == 1, f"D7: one mistake, one message ({line.strip()})", lines)
    lines = check_source(folder, "wetside 1\nsolution s {\n  usable 20 ± 0.5 K\n}\n")
    harness.check(lines[0].startswith("a.wet:3:10: error: `20` has no unit") and "°C" in lines[3], "D6: a temperature does without the unit of its tolerance", lines)
    many = "wetside 1\ntank t { holds 1 L }\n" + "".join(f"film f{number} {{ hodls 1 L }}\n" for number in range(50))
    lines = check_source(folder, many)
    harness.check(lines[-1] == "wetside: 50 errors; 20 of 50 shown" and len(expectations.findings_of("\n".join(lines))) == 20,
                  "D13: 20 are shown, all are counted", lines[-1])
    lines = check_source(folder, many, "--max-errors", "0")
    harness.check(lines[-1] == "wetside: 50 errors" and len(expectations.findings_of("\n".join(lines))) == 50, "D13: 0 shows all")


def judge_notes(folder):
    put(folder, "lib.wet", "wetside 1\ntank t { hodls 1 L }\n")
    put(folder, "middle.wet", 'wetside 1\n\nuse "lib.wet"\n')
    lines = check_source(folder, 'wetside 1\nuse "middle.wet"\n')
    harness.check([line for line in lines if PLACE.match(line)][:3] == [lines[0], "middle.wet:3:5: note: used from here",
                                                                      "a.wet:2:5: note: used from here"]
                  and lines[0].startswith("lib.wet:2:10: error:"), "D9: a mistake in a used file, and the way there", lines)
    lines = check_source(folder, "wetside 1\ntank t { holds 1 L }\ntank t { holds 2 L }\n")
    harness.check(any(line.startswith("a.wet:2:6: note: ") for line in lines), "D11: the other place is a note with its place", lines)
    starter = harness.run("new", "-o", "-", "p").stdout.decode()
    for wrong, said in (("fixr", "did you mean `fixer`?"), ("fi", None), ("zzzzzz", None)):
        lines = check_source(folder, starter.replace("in fixer", f"in {wrong}"))
        guess = [line for line in lines if "did you mean" in line]
        harness.check(bool(guess) == (said is not None) and all(said in line for line in guess), f"D10: a guess for {wrong}", lines)
    cases = ("allow carry-over", "missing", "error"), ('allow carry-over "why"', "covers nothing", "warning"), \
            ('allow carryover "why"', "is not a check", "error")
    for clause, said, severity in cases:
        lines = check_source(folder, starter.replace("  tank jar\n", f"  tank jar\n  {clause}\n"))
        match = [PLACE.match(line) for line in lines if PLACE.match(line)]
        harness.check(match and match[0]["kind"] == severity and match[0]["line"] == "42", f"D15: {clause}: {severity}", lines)
    lines = check_source(folder, starter.replace("{ 18 °C 9:30, 20 °C 8:00, 24 °C 5:30 }", "{ 21 °C 7:00, 24 °C 5:30 }"))
    harness.check(any("20.0\u00a0°C" in line and "21.0\u00a0°C" in line for line in lines), "D19: a message says what from what", lines)


def judge_harmless(folder):
    text = 'wetside 1\nprocess p "x" { tank \u202etank\u2066 }\n# \x1b[31mred\x1b[0m\nnote\x07s\n'
    lines = "\n".join(check_source(folder, text))
    raw = [sign for sign in lines if sign != "\n" and (ord(sign) < 32 or 0x202A <= ord(sign) <= 0x202E or 0x2066 <= ord(sign) <= 0x2069)]
    harness.check(not raw and "U+202E" in lines, "D18: nothing from a file moves the cursor or turns the writing", lines)
    put(folder, "a\x1b[31m.wet", "wetside 1\ntank t { hodls 1 L }\n")
    done = harness.run("check", "a\x1b[31m.wet", cwd=folder)
    harness.check(b"\x1b" not in done.stderr and b"<0x1B>" in done.stderr, "D18: nor from its name", done.stderr)
    put(folder, "a.wet", b"wetside 1\ntank t { hodls\xff 1 L }\n")
    done = harness.run("check", "a.wet", cwd=folder)
    done.stderr.decode("utf-8")
    harness.check(b"0xFF" in done.stderr, "D18: what is no UTF-8 is shown as bytes", done.stderr)


def judge_explained():
    """D4: every id that is found is explained."""
    listed = {line.split("\t")[1] for line in harness.run("explain", "--list").stdout.decode().splitlines()
              if line.startswith("check\t")}
    dumb = [name for name in sorted(listed) if not harness.run("explain", name).stdout.startswith(b"#")
            and len(harness.run("explain", name).stdout) < 200]
    harness.check(not dumb and len(listed) > 50, "D4: every id is explained", dumb)


def main():
    judge_layout()
    judge_explained()
    for judge in (judge_places, judge_counts, judge_notes, judge_harmless):
        with tempfile.TemporaryDirectory() as folder:
            judge(folder)
    harness.end()


if __name__ == "__main__":
    main()
