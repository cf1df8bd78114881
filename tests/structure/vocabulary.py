#!/usr/bin/env python3
"""Each vocabulary is written once, in a row file; the grammar and what the program prints know the same set. (The
documents are compared with the row files by docs_*.py beside this script.)"""

import os
import re
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
    """words.def against the tokens, the soft words and the printed grammar."""
    words = definitions.rows("syntax/words.def", "WORD")
    grammar = definitions.strip_comments(harness.read("grammar/wetside.y"))
    tokens = re.findall(r'\bW_(\w+) "([^"]+)"', grammar.partition("%%")[0])
    compare("the tokens of wetside.y are the words of words.def, in its order",
            [(word[0].upper(), word[1]) for word in words], tokens)
    rule = re.search(r"^any_word\b(.*?);", grammar, re.DOTALL | re.MULTILINE)
    compare("every word may be a name (rule any_word)", [word[0].upper() for word in words],
            re.findall(r"\bW_(\w+)", rule[1]))
    rules = grammar.partition("%%")[2].replace(rule[0], "")
    unread = [word[1] for word in words if not re.search(rf"\bW_{word[0].upper()}\b", rules)]
    harness.check(not unread, "every word stands in a rule", f"in none: {unread}")
    printed = re.sub(r"\(\*.*?\*\)", " ", harness.read("grammar/reference.ebnf"), flags=re.DOTALL)
    compare("the terminals of reference.ebnf are the words of words.def",
            sorted(word[1] for word in words), sorted(set(re.findall(r'"([^"]*)"', printed)) - PUNCTUATION))


def judge_checks():
    """checks.def against `explain`."""
    checks = definitions.rows("support/checks.def", "CHECK")
    names = [row[0].replace("_", "-") for row in checks]
    listed = harness.run("explain", "--list").stdout.decode()
    compare("explain --list names the checks of checks.def, in its order", names,
            [line.split()[0] for line in listed.splitlines() if line.strip()])
    missing = [row[5] for row in checks if row[5] not in listed]
    harness.check(not missing, "explain --list says what each check says", f"not there: {missing}")
    for name in names:
        completed = harness.run("explain", name)
        harness.check(completed.returncode == 0 and name.encode() in completed.stdout, f"explain {name}",
                      completed.stderr.decode("utf-8", "replace"))


def judge_commands():
    """commands.def against the help of the program, and emitters.def against the help of its commands."""
    commands = definitions.rows("commands/commands.def", "COMMAND")
    names = [row[0].replace("_", "-") for row in commands]
    help_text = harness.run("--help").stdout.decode()
    shown = re.findall(r"^  (?:wetside )?([a-z][a-z-]*)\b", help_text, re.MULTILINE)
    compare("--help names the commands of commands.def", sorted(names), sorted(set(shown)))
    emitters = definitions.rows("emit/emitters.def", "EMITTER")
    products = {row[0] for row in emitters}
    harness.check(products <= set(names), "every product is a command", f"no commands: {sorted(products - set(names))}")
    for name in names:
        completed = harness.run(name, "--help")
        formats = sorted(row[1] for row in emitters if row[0] == name)
        text = completed.stdout.decode()
        unknown = [form for form in formats if not re.search(rf"\b{form}\b", text)]
        harness.check(completed.returncode == 0 and not unknown, f"{name} --help names its formats",
                      f"status {completed.returncode}, not named: {unknown}")


def main():
    judge_words()
    judge_checks()
    judge_commands()
    harness.end()


main()
