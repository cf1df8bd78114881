#!/usr/bin/env python3
"""Ten thousand random files, made from grammar/reference.ebnf as it stands: formatting is done after one run, and keeps
every token and every comment. Meaning is left to chance; only the form counts here."""
# timeout: 900
# lasts: 45
# builds: plain

import os
import random
import re
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness
from recipe_tokens import comments, tokens

COUNT = 10000
BATCH = 500
SEED = 20260314

NAMES = ["upright", "no-2", "colour-developer", "bleach-fix", "cafe\u0301-noir", "Übertrag", "x-ray", "D-76", "time", "a",
         "SM-041", "step", "min", "first", "H301+H311", "пленка-2"]
UNITS = ["°C", "C", "° C", "℃", "degC", "F", "K", "s", "seconds", "min", "minutes", "h", "d", "days", "week", "weeks",
         "months", "ml", "mL", "litres", "L", "US fl  oz", "imp pints", "g", "grains", "oz", "%", "percent", "cm²", "cm2",
         "sq in", "inches", "kJ/mol"]
COMMENTS = ["# a remark", "#", "#no blank", "# trailing blanks  \t", "# } ; { , \"", "# °C ± ☂ 胶片", "# expect nothing"]


def read_grammar():
    """The rules of reference.ebnf: name to a tree of ("or", …), ("all", …), ("any", x), ("may", x), words and names."""
    text = re.sub(r"\(\*.*?\*\)", " ", harness.read("grammar/reference.ebnf"), flags=re.S)
    pieces = re.findall(r'"[^"]*"|[\w-]+|[=|;{}()\[\],]', text)
    rules, at = {}, 0

    def sequence(at):
        options, parts = [], []
        while pieces[at] not in (";", ")", "]", "}"):
            piece = pieces[at]
            at += 1
            if piece == "|":
                options.append(("all", parts))
                parts = []
            elif piece in "([{":
                inner, at = sequence(at)
                at += 1
                parts.append({"(": inner, "[": ("may", inner), "{": ("any", inner)}[piece])
            else:
                parts.append(piece)
        options.append(("all", parts))
        return ("or", options), at

    while at < len(pieces):
        name = pieces[at]
        rules[name], at = sequence(at + 2)
        at += 1
    return rules


RULES = read_grammar()


def expand(node, chance, out):
    """Appends the words of a random sentence."""
    if isinstance(node, tuple):
        kind, inner = node
        if kind == "or":
            expand(chance.choice(inner), chance, out)
        elif kind == "all":
            for part in inner:
                expand(part, chance, out)
        elif kind == "may":
            if chance.random() < 0.5:
                expand(inner, chance, out)
        else:
            for _ in range(chance.choice((0, 1, 1, 2, 3, 5, 12))):
                expand(inner, chance, out)
    elif node.startswith('"'):
        out.append({"±": chance.choice(("±", "+-", "+/-")), "..": chance.choice(("..", "…", "–")),
                    "x": chance.choice(("x", "×"))}.get(node[1:-1], node[1:-1]))
    elif node == "end":
        out.append("end")
    elif node == "name" and out[-2:-1] == ["add"]:
        out.append("decahydrate")  # a hydrate is no keyword
    elif node in TERMINALS:
        out.append(TERMINALS[node](chance))
    else:
        expand(RULES[node], chance, out)


TERMINALS = {
    "name": lambda chance: chance.choice(NAMES),
    "string": lambda chance: chance.choice(('"a text"', '"# no comment; {"', '"a \\" quote"', '"' + "long, " * 18 + '"')),
    "number": lambda chance: chance.choice(("1", "2", "38.0", "0.15", "-0.2", "135", "007")),
    "unit": lambda chance: chance.choice(UNITS),
    "clock": lambda chance: chance.choice(("3:30", "1:05:00", "0:07.5")),
    "date": lambda chance: "2026-03-14",
    "dilution": lambda chance: chance.choice(("1+9", "1 + 1+98", "1\t+4")),
}


def layout(words, chance):
    """The words as a file: odd blanks, comments wherever a line may end."""
    newline = chance.choice(("\n", "\n", "\r\n", "\r"))
    text = chance.choice(("", "\ufeff"))

    def lines(may_be_none):
        piece = ""
        for _ in range(chance.choice((0, 0, 1, 1, 2, 3)) if may_be_none else chance.choice((1, 1, 2, 4))):
            piece += chance.choice(("", "", "  ", "\t")) + chance.choice(("", "", "", *COMMENTS)) + newline
        return piece

    text += lines(True)
    for index, word in enumerate(words):
        before = words[index - 1] if index else "end"
        if word == "end":
            follower = words[index + 1] if index + 1 < len(words) else None
            if follower == "}" and chance.random() < 0.4:
                continue
            text += chance.choice((";", " ;", "; " + lines(True), lines(False), lines(False)))
            continue
        if before in ("{", ",") and chance.random() < 0.3:
            text += lines(False)
        must = (before == "," and word[0].isdigit()) or not (  # 1,5 is a decimal comma
            word in ("{", "}", ",") or before in ("end", "{", "}", ",")
            or (before[-1].isdigit() and word[:1] in "°℃%x×±…–"))
        if text.endswith(newline) and "{" in words[:index]:
            text += " "  # a declaration's word at the start of a line would close what is open
        text += chance.choice((" ", " ", "  ", "\t") if must else ("", " ", "   ")) + word
    return text.encode()


def recipe(number):
    """One random file."""
    chance = random.Random(SEED + number)
    words = ["wetside", "1", "end"]
    for _ in range(chance.randint(1, 4)):
        expand(RULES["declaration"], chance, words)
        words.append("end")
    return layout(words, chance)


wrong = {"refused": [], "not done after one run": [], "tokens": [], "comments": []}
with tempfile.TemporaryDirectory() as folder:
    for start in range(0, COUNT, BATCH):
        sources = {f"r{number}.wet": recipe(number) for number in range(start, start + BATCH)}
        for name, source in sources.items():
            with open(os.path.join(folder, name), "wb") as file:
                file.write(source)
        first = harness.run("fmt", *sources, cwd=folder, timeout=300)
        refused = set(re.findall(r"^(r\d+\.wet):\d+:\d+: error: (?=.*\[syntax\]$)", first.stderr.decode(), re.M))
        wrong["refused"] += [re.search(rf"^{name}:.*\[syntax\]\n.*", first.stderr.decode(), re.M)[0] for name in refused]
        again = harness.run("fmt", "--check", *(name for name in sources if name not in refused), cwd=folder, timeout=300)
        wrong["not done after one run"] += again.stdout.decode().split()
        for name, source in sources.items():
            if name in refused:
                continue
            with open(os.path.join(folder, name), "rb") as file:
                result = file.read()
            if tokens(result) != tokens(source):
                wrong["tokens"].append(name)
            if comments(result) != comments(source):
                wrong["comments"].append(name)

for what, names in wrong.items():
    harness.check(not names, f"{COUNT} random files: none {what}", f"{len(names)}, as " + "\n".join(names[:5]))
harness.end()
