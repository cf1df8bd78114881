#!/usr/bin/env python3
"""Texts and comments are passed over in one go where nothing in them is out of the ordinary, blanks before them too.
What is a text and what a comment stays the same wherever they end: before an escaped quote, at an end of line of any
kind, at the end of the file. What `fmt` writes again has to be what was read."""

import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402

FRAME = "wetside 1\nsolution fixer {\n\trole fixer\n\thazards none\n\twaste fixer\n%s}\n"
TEXTS = ['""', '"a"', '"# no comment"', '"{ } ; ,"', '"it\'s"', r'"a \" b"', r'"\"a"', r'"a\""', r'"a\\"', r'"\\\""',
         r'"a \n b"', '"ß ± \u4e2d"', '"' + "long " * 40 + '"', '"tab\there"']
COMMENTS = ["#", "# a", '# "no text', '# "no text"', "## { }", "# ß ± \u4e2d", "# " + "long " * 40 + "end", "#\ttab",
            "# \\"]


def judge_text(text):
    """A text alone, before a comment, before the end of a clause or a brace; the byte behind it may be any of these."""
    for tail in ("\n", ' # "c"\n', "#c\n", ";\n", "; usable 18 C .. 24 C\n", "\r\n", " "):
        source = FRAME % f"\tnote {text}{tail}"
        done = harness.run("fmt", "-", stdin=source.encode())
        written = done.stdout.decode()
        harness.check(done.returncode == 0 and f"note {text}" in written, f"the text {text} before {tail!r}",
                      f"{done.stderr.decode()}\n{written}")


def judge_comment(comment):
    """A comment on a line of its own, behind a clause, and where the file ends, with each kind of line end."""
    for end in ("\n", "\r\n", "\r"):
        source = (FRAME % f'\tnote "a" {comment}\n  {comment}\n\tnote "b"\n') + comment
        done = harness.run("fmt", "-", stdin=source.replace("\n", end).encode())
        written = done.stdout.decode()
        lines = [line.strip() for line in written.splitlines()]
        is_kept = written.count(comment) >= 3 and 'note "b"' in lines and lines[-1] == comment
        harness.check(done.returncode == 0 and is_kept, f"the comment {comment} with line ends {end!r}",
                      f"{done.stderr.decode()}\n{written}")


def judge_mistakes():
    """What is not as it should be is told at its place."""
    for source, place in (('wetside 1\nuse "a\n', "2.5"), ('wetside 1\nuse "a\\"', "2.5"), ('wetside 1\nuse "', "2.5"),
                          ('wetside 1\nuse "a\r', "2.5"), ('wetside 1\n# ab\u200bcd\n', "2.5"),
                          ('wetside 1\ntank a "x\u202ey" { holds 1 L }\n', "2.10")):
        done = harness.run("check", "-", stdin=source.encode())
        first = done.stderr.decode().splitlines()[0] if done.stderr else ""
        harness.check(first.startswith(f"<stdin>:{place.replace('.', ':')}:") or first.startswith(f"<stdin>:{place}"),
                      f"the place of what is wrong in {source!r}", done.stderr.decode())


def main():
    for text in TEXTS:
        judge_text(text)
    for comment in COMMENTS:
        judge_comment(comment)
    judge_mistakes()
    harness.end()


main()
