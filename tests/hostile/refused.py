#!/usr/bin/env python3
"""What the language refuses, in every place that takes a text: bytes that are no UTF-8, NUL, line ends, unknown escapes. Each is a
finding with its place, printable on a terminal, exit status 1, and no product. What it takes but warns of (controls, what
cannot be seen) is a finding too, shown and never said; findings are whole as JSON and SARIF, `fmt` keeps the texts as they are."""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

import outputs
import slots
import strings
from harness import WETSIDE, check, end, run

PLACE = re.compile(rb"^([^\n:]+):(\d+):(\d+): error: .* \[[a-z-]+\]$", re.M)
IS_SANITIZED = "/asan/" in WETSIDE


def printable(data):
    """Whether what was said is text for a terminal: valid UTF-8, nothing raw or hidden in it but line ends."""
    try:
        return not strings.HIDDEN.search(data.decode("utf-8").replace("\n", ""))
    except UnicodeDecodeError:
        return False


def plain_recipe(folder):
    """The plain recipe as bytes, with the folder in which its other files are."""
    return slots.write(folder, slots.tame_texts(), slots.tame_names())


def judge_refused(root):
    """Every refused piece in every slot of the recipe: one after the other, since the first stops the reading of a file."""
    folder = os.path.join(root, "refused")
    path = plain_recipe(folder)
    with open(path, "rb") as file:
        recipe = file.read()
    words = {slot: word.encode() for slot, word in slots.tame_texts().items() if b'"' + word.encode() in recipe}
    wrong, count = [], 0
    for name, piece in strings.REFUSED.items():
        for slot in list(words)[::8] if IS_SANITIZED else words:
            with open(path, "wb") as file:
                file.write(recipe.replace(words[slot], piece, 1))
            line = recipe[:recipe.index(words[slot])].count(b"\n") + 1
            done = run("check", "--max-errors", "1", "main.wet", cwd=folder)
            found = PLACE.search(done.stderr)
            count += 1
            if done.returncode != 1 or done.stdout or not printable(done.stderr) or not found or \
                    found.group(1) != b"main.wet" or int(found.group(2)) != line:
                wrong.append(f"{name} in {slot}, line {line}: status {done.returncode}, {done.stderr[:300]!r}")
    check(not wrong, f"{len(strings.REFUSED)} pieces in {len(words)} slots: refused at their line, printable, exit 1 ({count})",
          "\n".join(wrong[:8]))


def judge_columns(root):
    """The same in the cells of a rolls file."""
    folder = os.path.join(root, "columns")
    plain_recipe(folder)
    texts = slots.tame_texts()
    path = os.path.join(folder, slots.file_name(texts[slots.FILES[1]], ".csv"))
    with open(path, "rb") as file:
        table = file.read()
    wrong = []
    for name, piece in strings.REFUSED.items():
        if name in ("line end", "carriage return", "unknown escape", "escape at the end"):
            continue  # mean nothing there
        for slot in slots.column_slots():
            with open(path, "wb") as file:
                file.write(table.replace(texts[slot].encode(), piece, 1))
            done = run("check", "--max-errors", "1", "main.wet", cwd=folder)
            found = PLACE.search(done.stderr)
            if done.returncode != 1 or not printable(done.stderr) or not found or not found.group(1).endswith(b".csv"):
                wrong.append(f"{name} in {slot}: status {done.returncode}, {done.stderr[:300]!r}")
    check(not wrong, "and in every column of a rolls file", "\n".join(wrong[:8]))


def judge_products(root):
    """No product comes of any of them, and an older one is left."""
    folder = os.path.join(root, "products")
    path = plain_recipe(folder)
    with open(path, "rb") as file:
        recipe = file.read()
    wrong = []
    for name, piece in list(strings.REFUSED.items()):
        with open(path, "wb") as file:
            file.write(recipe.replace(slots.tame_texts()["step-clause: note"].encode(), piece, 1))
        for product, form in outputs.emitters():
            if product == "review" or (product, form) not in (("sheet", "html"), ("timer", "sh"), ("plan", "ics"), ("model", "json")):
                continue
            done = run(product, "--to", form, "main.wet", cwd=folder)
            if done.returncode != 1 or done.stdout or not printable(done.stderr):
                wrong.append(f"{name}: {product} --to {form}: {done.returncode}, {done.stdout[:80]!r}")
    check(not wrong, "nothing is made of them", "\n".join(wrong[:8]))


def judge_findings(root):
    """Every text that is taken, in every slot: what is said of it is printable, and the same as text, JSON and SARIF; one finding
    for each character that cannot be seen, at its place."""
    texts = list(strings.STRINGS.values())
    wrong, findings = [], 0
    for row in range(0, len(texts), 6 if IS_SANITIZED else 2):
        folder = os.path.join(root, f"row-{row}")
        held = {slot: texts[(number + row) % len(texts)] for number, slot in enumerate(slots.SLOTS)}
        slots.write(folder, held, slots.tame_names())
        texted, lines, sarif = (run("check", "--max-errors", "0", *words, "main.wet", cwd=folder)
                                for words in ([], ["--diagnostics", "json"], ["--diagnostics", "sarif"]))
        told = [outputs.strict_json(line) for line in lines.stdout.decode("utf-8").splitlines()]
        results = outputs.strict_json(sarif.stdout.decode("utf-8"))["runs"][0]["results"]
        seen = len(re.findall(rb"^[^\n]*:\d+:\d+: (?:error|warning|hint): ", texted.stderr, re.M))
        findings += len(told)
        if not printable(texted.stderr) or not printable(lines.stdout) or not printable(sarif.stdout):
            wrong.append(f"row {row}: something raw is said")
        if seen != len([each for each in told if each["allowed"] is None]) or len(told) != len(results):
            wrong.append(f"row {row}: {seen} findings as text, {len(told)} as JSON, {len(results)} as SARIF")
        if texted.returncode != 0:
            wrong.append(f"row {row}: status {texted.returncode}: {texted.stderr[-300:]!r}")
        reasons = {each["allowed"] for each in told if each["allowed"] is not None}
        if not reasons <= set(held.values()) | {""}:
            wrong.append(f"row {row}: a reason is not as it was given: {sorted(reasons - set(held.values()))[:2]!r}")
    check(not wrong, f"findings of hostile recipes are printable and the same in each form ({findings})", "\n".join(wrong[:8]))


def judge_hidden(root):
    """Each character that cannot be seen has its finding, at its line and column."""
    folder = os.path.join(root, "hidden")
    path = plain_recipe(folder)
    with open(path, encoding="utf-8") as file:
        recipe = file.read()
    hidden = [chr(code) for code in (*range(1, 9), 0x0e, 0x1b, 0x1f, 0x7f, 0x80, 0x9b, 0x9f, 0xad, 0x61c, *range(0x200b, 0x2010),
                                     *range(0x2028, 0x202f), *range(0x2060, 0x2065), *range(0x2066, 0x206a), 0xfeff, 0xfdd0,
                                     0xfffe, 0xffff, 0x1ffff, 0xe0001, 0xe0041)]
    wrong = []
    word = slots.tame_texts()["process-clause: note"]
    line, column = next((number, text.index(word) + 3) for number, text in enumerate(recipe.split("\n"), 1) if word in text)
    for one in hidden:
        with open(path, "w", encoding="utf-8", newline="") as file:
            file.write(recipe.replace(word, f"ab{one}c", 1))
        done = run("check", "--max-errors", "0", "main.wet", cwd=folder)
        wanted = f"main.wet:{line}:{column}: warning: the character U+{ord(one):04X} "
        if done.returncode != 0 or wanted not in done.stderr.decode("utf-8", "replace") or not printable(done.stderr):
            wrong.append(f"U+{ord(one):04X}: wanted {wanted!r}: {done.stderr[:200]!r}")
    check(not wrong, f"{len(hidden)} characters that cannot be seen: each a finding at its place", "\n".join(wrong[:8]))


def judge_terminal(root):
    """Where the findings go to a terminal, with colours: the program's own sequences and no other."""
    folder = os.path.join(root, "terminal")
    texts = list(strings.STRINGS.values())
    wrong = []
    for row in range(0, len(texts), 9):
        shutil.rmtree(folder, ignore_errors=True)
        slots.write(folder, {slot: texts[(number + row) % len(texts)] for number, slot in enumerate(slots.SLOTS)}, slots.tame_names())
        done = run("check", "--color", "always", "--max-errors", "0", "main.wet", cwd=folder)
        rest = re.sub(rb"\x1b\[[\d;]*m", b"", done.stderr)
        if rest == done.stderr or not printable(rest):
            wrong.append(f"row {row}: {rest[:200]!r}")
    check(not wrong, "findings in colour hold the program's own sequences alone", "\n".join(wrong[:8]))


def judge_formatter(root):
    """fmt keeps each text as it is written, in a second run too; and says of refused ones what check says."""
    folder = os.path.join(root, "formatter")
    texts = list(strings.STRINGS.values())
    wrong = []
    for row in range(0, len(texts), 12 if IS_SANITIZED else 4):
        shutil.rmtree(folder, ignore_errors=True)
        path = slots.write(folder, {slot: texts[(number + row) % len(texts)] for number, slot in enumerate(slots.SLOTS)},
                           slots.tame_names())
        before = run("model", "main.wet", cwd=folder).stdout
        with open(path, "rb") as file:
            written = re.findall(rb'"(?:\\.|[^"\\\n])*"', file.read())
        done = run("fmt", "main.wet", cwd=folder)
        with open(path, "rb") as file:
            formatted = re.findall(rb'"(?:\\.|[^"\\\n])*"', file.read())
        again = run("fmt", "--check", "main.wet", cwd=folder)
        if done.returncode != 0 or again.returncode != 0 or written != formatted or run("model", "main.wet", cwd=folder).stdout != before:
            wrong.append(f"row {row}: {done.returncode} {again.returncode} {done.stderr[:200]!r} {written == formatted}")
    check(not wrong, "fmt leaves every text as it is", "\n".join(wrong[:8]))
    with open(path, "wb") as file:
        file.write(b'wetside 1\ntank t "a\xff" { holds 1 L }\n')
    done = run("fmt", "main.wet", cwd=folder)
    check(done.returncode in (1, 2) and printable(done.stderr) and PLACE.search(done.stderr), "fmt refuses what is no UTF-8", done.stderr)


def main():
    with tempfile.TemporaryDirectory() as root:
        for judge in (judge_refused, judge_columns, judge_products, judge_findings, judge_hidden, judge_terminal, judge_formatter):
            judge(root)
    end()


main()
