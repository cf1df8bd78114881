"""Parts of a document that are made from other files: between `<!-- made from FILE -->` and `<!-- end -->`.

Scripts give the makers of the parts; with `--write` they bring the document up to date instead of judging it."""

import re
import sys

import harness
from definitions import ROOT

WRITES = "--write" in sys.argv


def table(head, lines):
    """A CommonMark table."""
    out = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    out += ["| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines]
    return "\n".join(out)


def code(word):
    """A code span."""
    return f"`{word}`"


def judge(document, makers):
    """Compares each part of a document with what its maker gives, or writes it. `makers` is a dict by file."""
    path = ROOT / document
    text = path.read_text(encoding="utf-8")
    for source, make in makers.items():
        pattern = re.compile(r"(<!-- made from " + re.escape(source) + r" -->\n)(.*?)(<!-- end -->)", flags=re.S)
        found = pattern.findall(text)
        wanted = "\n" + make() + "\n\n"
        if WRITES:
            text = pattern.sub(lambda match, wanted=wanted: match.group(1) + wanted + match.group(3), text)
            continue
        harness.check(
            len(found) == 1 and found[0][1] == wanted,
            f"{document} holds {source} as it is",
            f"bring it up to date with: {sys.argv[0]} --write",
        )
    if WRITES:
        path.write_text(text, encoding="utf-8")
    return text
