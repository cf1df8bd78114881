#!/usr/bin/env python3
# builds: plain
# lasts: 50
# timeout: 600
"""One mistake costs one message: every brace, quote, comma, clause word and figure of the examples is in turn left out,
doubled, misspelt or followed by a character without meaning. No such file gets more than one error. Of the places of a
day, which is planned for each of them, some are taken, evenly spread."""

import glob
import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import expectations  # noqa: E402
import harness  # noqa: E402
import many_runs  # noqa: E402

TOKEN = re.compile(r'"(?:[^"\\\n]|\\.)*"|#[^\n]*|\n|[ \t]+|[^\W\d][\w-]*|\d+(?:[.:+]\d+)*|[^\w\s]')
SHOWN = 5
PLACES_OF_A_DAY = 25
LINES_OF_A_TABLE = 9


def places(tokens):
    """The numbers of the tokens that mean something, and of the first of each clause."""
    meant = [number for number, token in enumerate(tokens) if not token.isspace() and not token.startswith("#")]
    starts = [number for before, number in zip([None, *meant], meant)
              if before is None or tokens[before] in ("{", ";") or "\n" in "".join(tokens[before + 1:number])]
    return meant, starts


def without(tokens, number):
    return "".join(tokens[:number] + tokens[number + 1:])


def instead(tokens, number, token):
    return "".join(tokens[:number] + [token] + tokens[number + 1:])


def misspelt(word):
    """A word that is none: its last letter but one is another."""
    return word[:-2] + ("q" if word[-2] != "q" else "x") + word[-1]


def mistakes(text):
    """Pairs of a kind of mistake and all files that have one."""
    tokens = TOKEN.findall(text)
    meant, starts = places(tokens)
    braces = [number for number in meant if tokens[number] in "{}"]
    words = [number for number in starts if re.fullmatch(r"[a-z-]{4,}", tokens[number])]
    figures = [number for number in meant if tokens[number][0].isdigit()]
    yield "a `}` left out", [without(tokens, number) for number in braces if tokens[number] == "}"]
    yield "a `{` left out", [without(tokens, number) for number in braces if tokens[number] == "{"]
    yield "a `}` doubled", [instead(tokens, number, "} }") for number in braces if tokens[number] == "}"]
    yield "a `{` doubled", [instead(tokens, number, "{ {") for number in braces if tokens[number] == "{"]
    yield "a quote left out", [instead(tokens, number, tokens[number][:-1]) for number in meant
                               if tokens[number][0] == '"' and tokens[number + 1][0] in " \n"]
    yield "a clause word misspelt", [instead(tokens, number, misspelt(tokens[number])) for number in words]
    yield "a clause word doubled", [instead(tokens, number, 2 * (tokens[number] + " ")) for number in words]
    yield "a figure left out", [without(tokens, number) for number in figures]
    yield "a figure doubled", [instead(tokens, number, f"{tokens[number]} {tokens[number]}") for number in figures]
    yield "a comma left out", [without(tokens, number) for number in meant if tokens[number] == ","]
    yield "a comma at the end of a line", [instead(tokens, number, ",\n") for number, token in enumerate(tokens[:-1])
                                           if token == "\n" and tokens[number - 1] not in "{\n"]
    for odd in "@", "\u202e":
        yield f"U+{ord(odd):04X} between two words", [
            "".join(tokens[:number]) + odd + " " + "".join(tokens[number:]) for number in meant]


def judge(kind, name, folder, sources):
    paths = [f"{number}.wet" for number in range(len(sources))]
    for path, source in zip(paths, sources):
        with open(os.path.join(folder, path), "w", encoding="utf-8") as file:
            file.write(source)
    runs = many_runs.run_all([["check", "--max-errors=0", path] for path in paths], cwd=folder)
    if runs is None:
        harness.not_ok(f"{name}: {kind}", "the program ended in the middle")
        return
    wrong = []
    for status, _, messages in runs:
        findings = expectations.findings_of(messages.decode("utf-8", "replace"))
        errors = [finding for finding in findings if finding.severity == "error"]
        if status not in (0, 1) or len(errors) > 1:
            wrong.append("\n".join([f"status {status}"] * (status > 1) + [
                f"{finding.line}:{finding.column}: {finding.text} [{finding.id}]" for finding in errors[:3]]))
    harness.check(not wrong, f"{name}: {kind}", f"{len(wrong)} of {len(sources)} are more than one message\n\n" +
                  "\n\n".join(wrong[:SHOWN]))


def main():
    paths = sorted(glob.glob(os.path.join(harness.ROOT, "examples", "*.wet")))
    with tempfile.TemporaryDirectory() as folder:
        for table in glob.glob(os.path.join(harness.ROOT, "examples", "*.csv")):
            with open(table, encoding="utf-8") as file, open(os.path.join(folder, os.path.basename(table)), "w", encoding="utf-8") as few:
                few.writelines(file.readlines()[:LINES_OF_A_TABLE])  # few rolls are planned soon
        texts = {os.path.basename(path): harness.read(path) for path in paths}
        for name, text in texts.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)
        for name, text in texts.items():
            for kind, sources in mistakes(text):
                if "\nday " in text:
                    sources = sources[::-(-len(sources) // PLACES_OF_A_DAY) or 1]
                judge(kind, name, folder, sources)
    harness.end()


main()
