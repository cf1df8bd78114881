#!/usr/bin/env python3
"""docs/words.md is what `explain` says of every keyword, unit and vocabulary word, and every keyword has an example.
`--write` brings it up to date; before that it gives a keyword without an example its first use in docs/language.md."""

import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import ROOT, rows

WRITES = "--write" in sys.argv
DOCUMENT = ROOT / "docs" / "words.md"
EXAMPLES = ROOT / "src" / "syntax" / "examples.def"
HEAD = """# Words

What `wetside explain WORD` says, of everything but the [checks](checks.md): keywords first, then units, then the words
of the vocabularies. Made from the tables by `tests/structure/docs_words.py --write`.
"""
TITLES = {"word": "Keywords", "unit": "Units", "role": "Roles", "family": "Process families", "stream": "Waste streams",
          "class": "Classes of chemicals", "chemical": "Chemicals", "format": "Film formats", "condition": "Conditions of a roll"}
FRAMES = {"film", "tank", "graduate", "heater", "dryer", "thermometer", "solution", "process", "step", "day", "roll"}


def listed():
    """Pairs of kind and word, as `explain --list` has them."""
    return [line.split("\t")[:2] for line in harness.run("explain", "--list").stdout.decode().splitlines()]


def sections(word):
    """The texts that `explain` gives for a word, by headline."""
    text = harness.run("explain", word).stdout.decode()
    return [part.strip("\n") for part in re.split(r"^(?=# )", text, flags=re.M) if part.strip()]


def kind_of(section):
    """What the text is about, by its first sentence."""
    said = section.partition("\n\n")[2]
    for kind, beginning in (("word", "A keyword"), ("unit", "A unit"), ("role", "A role"), ("family", "A process family"),
                            ("stream", "A waste stream"), ("class", "A class of"), ("chemical", "A chemical"),
                            ("format", "A film format"), ("condition", "A condition")):
        if said.startswith(beginning):
            return kind
    return None


def document():
    out, last = [HEAD], None
    for kind, word in listed():
        if kind not in TITLES:
            continue
        if kind != last:
            out.append(f"## {TITLES[kind]}\n")
            last = kind
        section = next(part for part in sections(word) if kind_of(part) == kind)
        out.append(re.sub(r"^# ", "### ", section) + "\n")
    return "\n".join(out)


def tokens(clause):
    """The words of a clause outside of texts and comments."""
    return re.findall(r"[A-Za-z0-9-]+", re.sub(r'"(?:\\.|[^"])*"|#[^\n]*', " ", clause))


def first_use(word):
    """The place, clause and comment of the first line of docs/language.md in which a word is written."""
    for block in re.findall(r"^```wetside\n(.*?)^```", harness.read("docs/language.md"), flags=re.M | re.S):
        open_blocks = []
        for line in block.splitlines():
            bare = re.sub(r'"(?:\\.|[^"])*"', lambda match: "_" * len(match[0]), line)
            code, _, comment = bare.partition("#")
            if word in tokens(line) and code.count("{") == code.count("}"):
                place = open_blocks[-1] if open_blocks else "archive"
                return place, line[: len(code)].rstrip(), comment.strip()
            for brace in re.findall(r"(\S+)[^{}]*\{|(\})", code):
                if brace[1]:
                    open_blocks.pop()
                else:
                    open_blocks.append(brace[0] if brace[0] in FRAMES | {"mix", "formula"} else "archive")
    return None


def add_examples():
    known = {token for row in rows("syntax/examples.def", "EXAMPLE") for token in tokens(row[1])}
    before = text = EXAMPLES.read_text(encoding="utf-8")
    for word in (row[1] for row in rows("syntax/words.def", "WORD")):
        use = None if word in known else first_use(word)
        if use is not None:
            place, clause, says = (piece.replace("\\", "\\\\").replace('"', '\\"') for piece in use)
            text += f'EXAMPLE("{place}", "{clause}", "{says[:1].upper() + says[1:] if says else "As in docs/language.md"}.")\n'
    if text == before:
        return
    EXAMPLES.write_text(text, encoding="utf-8")
    subprocess.run(["make", "-s", "build/wetside"], cwd=ROOT, check=True)


def main():
    if WRITES:
        add_examples()
        DOCUMENT.write_text(document(), encoding="utf-8")
        return
    harness.check(DOCUMENT.read_text(encoding="utf-8") == document(), "docs/words.md is what `explain` says",
                  f"bring it up to date with: {sys.argv[0]} --write")
    known = {token for row in rows("syntax/examples.def", "EXAMPLE") for token in tokens(row[1])}
    bare = [row[1] for row in rows("syntax/words.def", "WORD") if row[1] not in known]
    harness.check(not bare, "every keyword has an example in examples.def", f"none of: {bare}")
    for word in (row[1] for row in rows("syntax/words.def", "WORD")):
        text = next((part for part in sections(word) if kind_of(part) == "word"), "")
        grammar = re.search(r"^```ebnf\n(.*?)^```", text, flags=re.M | re.S)
        harness.check("```wetside" in text and grammar and f'"{word}"' in grammar[1],
                      f"explain {word} shows an example and its grammar", text)
    harness.end()


if __name__ == "__main__":
    main()
