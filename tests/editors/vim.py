#!/usr/bin/env python3
# builds: plain
"""Vim, without a screen, with the files of grammar/editor/vim: the colours at given places of a recipe, and where `:make`
goes to."""

import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "structure"))

import harness
from definitions import rows

RECIPE = '''wetside 1                                # first line
use "room.wet"
tank step "A \\"tall\\" tank" { holds 2.5 L; takes 8x135 }
solution developer { role developer; dilute 1+9; contains sulfite; keeps 6 weeks full }
process no-2 from other {
  step develop in developer at 38 °C ± 0.2 C for 3:30 { agitate first 30 s, then 5 s every 30 s }
  load 3 US fl oz; waste silver
}
'''
# Line, a text of it, the group of its first character; "" for none.
PLACES = [
    (1, "wetside", "wetsideKeyword"), (1, "1", "wetsideNumber"), (1, "# first", "wetsideComment"),
    (1, "first", "wetsideComment"), (2, "use", "wetsideKeyword"), (2, "room", "wetsideString"),
    (3, "tank", "wetsideDeclaration"), (3, "step", "wetsideName"), (3, '\\"tall', "wetsideEscape"),
    (3, "tank\" {", "wetsideString"), (3, "holds", "wetsideKeyword"), (3, "2.5", "wetsideNumber"), (3, "L;", "wetsideUnit"),
    (4, "solution", "wetsideDeclaration"), (4, "developer {", "wetsideName"), (4, "developer;", ""),
    (4, "1+9", "wetsideNumber"), (4, "contains", "wetsideKeyword"), (4, "sulfite", ""), (4, "weeks", "wetsideUnit"),
    (4, "full", "wetsideKeyword"), (5, "no-2", "wetsideName"), (5, "from", "wetsideKeyword"), (5, "other", ""),
    (6, "step", "wetsideDeclaration"), (6, "develop in", "wetsideName"), (6, "in developer", "wetsideKeyword"),
    (6, "38", "wetsideNumber"), (6, "°C", "wetsideUnit"), (6, "±", "wetsideOperator"), (6, "C for", "wetsideUnit"),
    (6, "3:30", "wetsideNumber"), (6, "s, then", "wetsideUnit"), (6, "every", "wetsideKeyword"),
    (7, "US fl", "wetsideUnit"), (7, "silver", ""), (8, "}", ""),
]
# Wide signs stand before the mistakes, so that bytes, letters and columns of the screen all differ.
WRONG = '''wetside 1
tank jar { holds 600 mL }
process one {
  develops black-and-white-negative; tank jar
\tstep develop in nothing at 38 °C ± 0.2 C for 3:30
}
'''


def vim(folder, commands, file):
    """Runs Vim on a file; returns what the commands wrote to the file `out` as JSON."""
    out = os.path.join(folder, "out")
    script = os.path.join(folder, "script.vim")
    with open(script, "w", encoding="utf-8") as written:
        written.write("\n".join(commands).replace("OUT", out) + "\nqall!\n")
    told = subprocess.run(
        ["vim", "-N", "-u", "NONE", "-i", "NONE", "-n", "-es", "--cmd", "set encoding=utf-8 nomore", "--cmd",
         f"set runtimepath^={harness.ROOT}/grammar/editor/vim", "--cmd", "filetype plugin on", "--cmd", "syntax on",
         file, "-S", script],
        cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False, timeout=60,
        env=dict(os.environ, PATH=f"{folder}:{os.environ['PATH']}", HOME=folder))
    if not os.path.exists(out):
        return None, told.stdout.decode("utf-8", "replace")
    with open(out, encoding="utf-8") as read:
        return json.loads(read.read()), told.stdout.decode("utf-8", "replace")


def group_at(line, column):
    return f"synIDattr(synID({line}, {column}, 1), 'name')"


def judge_colours(folder):
    path = os.path.join(folder, "film.wet")
    pathlib.Path(path).write_text(RECIPE, encoding="utf-8")
    lines = RECIPE.splitlines()
    asked = [group_at(line, lines[line - 1].encode().index(text.encode()) + 1) for line, text, _ in PLACES]
    found, told = vim(folder, [f"call writefile([json_encode([{', '.join(asked)}, &filetype, &commentstring])], 'OUT')"], path)
    if not harness.check(found is not None, "Vim reads the files of grammar/editor/vim", told):
        return
    harness.check(found[-2:] == ["wetside", "# %s"], "a .wet file is a recipe, with its comments", found[-2:])
    wrong = [f"{line}: `{text}` is {got or 'nothing'}, not {wanted or 'nothing'}"
             for (line, text, wanted), got in zip(PLACES, found) if got != wanted]
    harness.check(not wrong, "words have the groups that they should have", "\n".join(wrong))
    words = [row[1] for row in rows("syntax/words.def", "WORD")]
    units = [(unit.replace("_", " "), row[1]) for row in rows("syntax/units.def", "UNIT") for unit in row[5].split()]
    text = "\n".join([*words, *(f"{{ 5 {unit} }}" for unit, _ in units), *(f"x{word}-" for word in words)])
    pathlib.Path(path).write_text(text + "\n", encoding="utf-8")
    last = len(words) + len(units)
    asked = [group_at(line, 1) for line in range(1, len(words) + 1)]
    asked += [group_at(line, 5) for line in range(len(words) + 1, last + 1)]
    asked += [group_at(line, 2) for line in range(last + 1, last + len(words) + 1)]
    found, told = vim(folder, ["let all = []", *(f"call add(all, {one})" for one in asked),
                               "call writefile([json_encode(all)], 'OUT')"], path)
    wrong = [word for word, got in zip(words, found or []) if got not in ("wetsideKeyword", "wetsideDeclaration")]
    harness.check(found and not wrong, "every keyword has its colour", f"not: {wrong} {told}")
    # To Vim a keyword wins over a pattern, so that a unit which is one too has its colour.
    wrong = [unit for (unit, _), got in zip(units, (found or [])[len(words):])
             if got != "wetsideUnit" and not (unit in words and got in ("wetsideKeyword", "wetsideDeclaration"))]
    harness.check(found and not wrong, "every unit has its colour", f"not: {wrong}")
    wrong = [word for word, got in zip(words, (found or [])[last:]) if got != ""]
    harness.check(found and not wrong, "a keyword inside a name has none", f"not so: {wrong}")


def judge_make(folder):
    path = os.path.join(folder, "wrong \u00e4.wet")
    pathlib.Path(path).write_text(WRONG, encoding="utf-8")
    program = os.path.join(folder, "wetside")
    if not os.path.exists(program):
        os.symlink(os.path.abspath(harness.WETSIDE), program)
    told = harness.run("check", path).stderr.decode()
    found, said = vim(folder, [
        "silent make", "let places = []",
        "for entry in getqflist()", "  if entry.valid", "    execute 'cc' (index(getqflist(), entry) + 1)",
        "    call add(places, [line('.'), getline('.')[col('.') - 1:], entry.type, entry.text, bufname(entry.bufnr)])",
        "  endif", "endfor", "call writefile([json_encode(places)], 'OUT')"], path)
    errors = [entry for entry in found or [] if entry[2].lower() == "e"]
    count = told.count(": error: ")
    harness.check(found is not None and count > 0 and len(errors) == count, ":make lists each error",
                  f"{found}\n{said}\n{told}")
    places = {(entry[0], entry[1].split()[0]) for entry in errors}
    harness.check((5, "nothing") in places, ":make goes to the word that is wrong, behind a tab", f"{found}\n{told}")
    pathlib.Path(path).write_text(WRONG.replace("in nothing at", "at").replace("for 3:30", "for 3:30 in nothing"), encoding="utf-8")
    found, said = vim(folder, ["silent make", "call writefile([json_encode([line('.'), getline('.')[col('.') - 1:]])], 'OUT')"],
                      path)
    harness.check(found == [5, "nothing"], ":make goes there behind signs of two bytes too", f"{found}\n{said}")


def main():
    if not shutil.which("vim"):
        harness.skip("Vim", "no vim")
        harness.end()
    with tempfile.TemporaryDirectory() as folder:
        judge_colours(folder)
        judge_make(folder)
    harness.end()


main()
