"""Reads the row files (*.def) that hold the project's vocabularies, for tests that compare documents with them."""

import pathlib
import re

ROOT = pathlib.Path(__file__).resolve().parents[2]


def strip_comments(text):
    return re.sub(r"/\*.*?\*/", " ", text, flags=re.S)


def arguments_of(text, start):
    """The arguments of the macro call whose `(` is at `start`, unquoted, and the index after its `)`."""
    arguments, current, depth, index, quoted = [], "", 0, start, False
    while True:
        character = text[index]
        if quoted:
            if character == "\\":
                current += text[index : index + 2]
                index += 1
            else:
                current += character
                quoted = character != '"'
        elif character == '"':
            quoted = True
            current += character
        elif character == "(":
            depth += 1
            current += character if depth > 1 else ""
        elif character == ")":
            depth -= 1
            if depth == 0:
                arguments.append(unquote(current))
                return arguments, index + 1
            current += character
        elif character == "," and depth == 1:
            arguments.append(unquote(current))
            current = ""
        else:
            current += character
        index += 1


def unquote(argument):
    """A string literal without its quotes (neighbours joined); anything else trimmed."""
    argument = argument.strip()
    pieces = re.findall(r'"((?:\\.|[^"\\])*)"', argument)
    if not pieces:
        return argument
    return "".join(pieces).replace('\\"', '"').replace("\\\\", "\\")


def rows(path, macro):
    """Every row `macro(...)` of a row file below src/, as lists of arguments, in the file's order."""
    text = strip_comments((ROOT / "src" / path).read_text(encoding="utf-8"))
    found = []
    for match in re.finditer(r"^" + macro + r"\(", text, flags=re.M):
        found.append(arguments_of(text, match.end() - 1)[0])
    if not found:
        raise LookupError(f"src/{path} has no row {macro}(...)")
    return found
