#!/usr/bin/env python3
"""Each vocabulary is written once, in a row file; the grammar and what the program prints know the same set. (The
documents are compared with the row files by docs_*.py beside this script.)"""

import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import definitions  # noqa: E402
import harness  # noqa: E402

PUNCTUATION = {";", "{", "}", ",", "..", "±", "x"}


def compare(name, wanted, found):
    """Two lists that should be the same, in the same order."""
    def why():
        missing, surplus = [word for word in wanted if word not in found], [word for word in found if word not in wanted]
        return f"missing: {missing}\nleft over: {surplus}" if missing or surplus else "the order differs"
    harness.check(list(wanted) == list(found), name, why)


def judge_words():
    """words.def against the tokens, the soft words and the printed grammar. The grammar that bison reads is made anew."""
    words = definitions.rows("syntax/words.def", "WORD")
    sources = ["src/syntax/words.def", "grammar/wetside.y"]
    made = subprocess.run(["awk", "-f", "grammar/keywords.awk", *sources], cwd=harness.ROOT, stdout=subprocess.PIPE,
                          check=True).stdout.decode()
    grammar = definitions.strip_comments(re.sub(r"^#line.*$", "", made, flags=re.MULTILINE))
    tokens = re.findall(r'\bW_(\w+) "([^"]+)"', grammar.partition("%%")[0])
    compare("the tokens of the grammar are the words of words.def, in its order",
            [(word[0].upper(), word[1]) for word in words], tokens)
    rule = re.search(r"^any_word\b(.*?);", grammar, re.DOTALL | re.MULTILINE)
    compare("every word may be a name (rule any_word)", [word[0].upper() for word in words],
            re.findall(r"\bW_(\w+)", rule[1]))
    rules = grammar.partition("%%")[2].replace(rule[0], "")
    unread = [word[1] for word in words if not re.search(rf"\bW_{word[0].upper()}\b", rules)]
    harness.check(not unread, "every word stands in a rule", f"in none: {unread}")
    judge_lines(made)
    printed = re.sub(r"\(\*.*?\*\)", " ", harness.read("grammar/reference.ebnf"), flags=re.DOTALL)
    compare("the terminals of reference.ebnf are the words of words.def",
            sorted(word[1] for word in words), sorted(set(re.findall(r'"([^"]*)"', printed)) - PUNCTUATION))


def judge_lines(made):
    """Each line of the grammar that bison reads is, by its `#line`, a line of the file that it came from."""
    path, number, wrong, files = None, 0, [], {}
    for line in made.splitlines():
        place = re.fullmatch(r'#line (\d+) "(.*)"', line)
        if place:
            number, path = int(place[1]), place[2]
            continue
        lines = files.setdefault(path, harness.read(path).splitlines())
        own = lines[number - 1] if number <= len(lines) else None
        if path.endswith(".def"):
            word = re.search(r"\bW_(\w+)", line)[1].lower()
            own = line if own and own.startswith(f"WORD({word},") else own
        if line != own:
            wrong.append(f"{path}:{number}: {line}")
        number += 1
    harness.check(not wrong and len(files) == 3, "#line tells where each line of the grammar comes from", "\n".join(wrong[:5]))


# What `explain --list` calls a row, and where the rows are: file, macro, column of the word, column of what is said.
EXPLAINED = [
    ("check", "support/checks.def", "CHECK", 0, 5),
    ("unit", "syntax/units.def", "UNIT", 1, None),
    ("word", "syntax/words.def", "WORD", 1, 3),
    ("role", "model/roles.def", "ROLE", 1, 2),
    ("family", "model/families.def", "FAMILY", 1, 2),
    ("stream", "model/streams.def", "STREAM", 1, 2),
    ("class", "model/classes.def", "CLASS", 1, 2),
    ("chemical", "model/chemicals.def", "CHEMICAL", 1, 2),
    ("format", "model/formats.def", "FORMAT", 1, 2),
    ("condition", "model/roll_conditions.def", "CONDITION", 1, 2),
    ("hazard", "model/hazards.def", "HAZARD", 0, 1),
]


def judge_explained():
    """The row files against `explain --list`, and each word against `explain`."""
    listed = [line.split("\t") for line in harness.run("explain", "--list").stdout.decode().splitlines()]
    compare("explain --list has the kinds that there are", [kind for kind, *_ in EXPLAINED],
            list(dict.fromkeys(line[0] for line in listed)))
    for kind, path, macro, word, summary in EXPLAINED:
        rows = definitions.rows(path, macro)
        names = [row[word].replace("_", "-") if kind == "check" else row[word] for row in rows]
        shown = {line[1]: line[2] for line in listed if line[0] == kind}
        compare(f"explain --list names the rows of {path}, in its order", names, list(shown))
        silent = [name for name, row in zip(names, rows)
                  if summary is not None and row[summary] not in shown.get(name, "")]
        harness.check(not silent, f"explain --list says what the rows of {path} say", f"not of: {silent}")
        failed = [name for name in names if harness.run("explain", name).returncode != 0]
        harness.check(not failed, f"explain knows each row of {path}", f"not: {failed}")


def judge_commands():
    """commands.def and options.def against the help and the manual page, emitters.def against the commands' help."""
    commands = [row[0].replace("_", "-") for row in definitions.rows("commands/commands.def", "COMMAND")]
    options = [row[1] for row in definitions.rows("commands/options.def", "OPTION")]
    emitters = definitions.rows("emit/emitters.def", "EMITTER")
    text = harness.run("--help").stdout.decode()
    completed = [line.split("\t")[0] for line in harness.run("complete", "--", "").stdout.decode().splitlines()]
    compare("`complete` offers the commands of commands.def", commands, completed)
    compare("--help names the commands of commands.def", commands, re.findall(r"^  ([a-z][a-z-]*) ", text, re.MULTILINE))
    compare("--help names the options of options.def", options, re.findall(r"^  .*?--([a-z-]+)", text, re.MULTILINE))
    products = list(dict.fromkeys(row[0] for row in emitters))
    harness.check(set(products) <= set(commands), "every product is a command", f"products: {products}")
    for command in commands:
        completed = harness.run(command, "--help")
        formats = [row[1] for row in emitters if row[0] == command]
        unnamed = [form for form in formats if not re.search(rf"\b{form}\b", completed.stdout.decode())]
        harness.check(completed.returncode == 0 and not unnamed, f"{command} --help names its formats",
                      f"status {completed.returncode}, not named: {unnamed}")
        offered = harness.run("complete", "--", command, "--").stdout.decode()
        compare(f"`complete` offers the options of {command} --help",
                re.findall(r"^  .*?--([a-z-]+)", completed.stdout.decode(), re.MULTILINE),
                re.findall(r"^--([a-z-]+)", offered, re.MULTILINE))
        offered = harness.run("complete", "--", command, "--to", "").stdout.decode()
        compare(f"`complete` offers the formats of {command}", formats, re.findall(r"^([a-z]\S*)\t", offered, re.MULTILINE))
    manual = harness.read("docs/man/wetside.1")
    compare("the manual page describes the commands of commands.def", commands,
            re.findall(r"^\.It Cm ([a-z-]+)$", manual, re.MULTILINE))
    compare("the manual page describes the options of options.def", sorted(options),
            sorted(set(re.findall(r"Fl -([a-z-]+)", manual))))
    unnamed = [row[1] for row in emitters if not re.search(rf"\b{row[1]}\b", manual)]
    harness.check(not unnamed, "the manual page names the formats of emitters.def", f"not named: {unnamed}")


def main():
    judge_words()
    judge_explained()
    judge_commands()
    harness.end()


main()
